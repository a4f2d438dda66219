import type { Octave } from './range.ts';

export const ROOM_GROUP_IDS = ['women', 'men', 'women over 65', 'men over 65', 'children'] as const;
export type RoomGroupId = (typeof ROOM_GROUP_IDS)[number];

/** How much of the room each group is; any unit, only their ratio counts. Missing: none. */
export type RoomShares = Readonly<Partial<Record<RoomGroupId, number>>>;

/** People of one kind: where the middle one of them is comfortable, sounding, in semitones, C4 = 60. */
export interface RoomGroup {
  readonly id: RoomGroupId;
  readonly low: number;
  readonly high: number;
  /** Where they take the printed tune. */
  readonly reads: Octave;
  /** Where the two ends come from. */
  readonly source: string;
}

const SURVEY =
  'Survey among 31 adults, self-reported and not reviewed (lesswrong.com RDYQpqbiLYhyynkRC): median comfortable range 21 half steps, centres near F3 and E♭4';
const OVER_65 =
  'Moore, Staum & Brotons 1992, Journal of Music Therapy 29 (4), 236–252, abstract: 514 people over 65, mean range 19 half steps, F3 to C5 for women, men nearly an octave lower (taken as an octave)';
const CLASSROOM =
  'A class in practice: D4 to D5, older children up to F5 (forum.musicasacra.com 2439, an elementary specialist)';

/** The ends as published; 21 half steps round E♭4 (63) and round F3 (53). */
export const ROOM_GROUPS: readonly RoomGroup[] = [
  { id: 'women', low: 52.5, high: 73.5, reads: 'as written', source: SURVEY },
  { id: 'men', low: 42.5, high: 63.5, reads: 'octave below', source: SURVEY },
  { id: 'women over 65', low: 53, high: 72, reads: 'as written', source: OVER_65 },
  { id: 'men over 65', low: 41, high: 60, reads: 'octave below', source: OVER_65 },
  { id: 'children', low: 62, high: 74, reads: 'as written', source: CLASSROOM },
];

/** Semitones: how far the ends of people of one group lie from the middle one's (standard deviation). Assumed. */
export const SPREAD = 3;

/** What a leader starts from; invented, to be set to the room. */
export const USUAL_ROOM: RoomShares = {
  women: 30,
  men: 25,
  'women over 65': 20,
  'men over 65': 15,
  children: 10,
};

/** What the model takes for granted, to stand beside every figure of it. */
export const ASSUMED: readonly string[] = [
  'A model from published ranges; nobody in this room was measured.',
  'Women and children sing the tune as printed, men an octave below.',
  'The survey’s two clusters of voices are taken for women and men under 65.',
  `The lowest and the highest comfortable note of people of one group lie ${SPREAD} half steps round the published ones (standard deviation, assumed), each apart from the other.`,
  'Everybody sings, and whoever is not comfortable counts as silent.',
];
