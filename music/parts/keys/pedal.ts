import { sameChord, tonesOf } from '../../pitch/chord-symbol.ts';
import { midiOf, pitchClassOf } from '../../pitch/pitch.ts';
import type { Note, Score, Section, Ticks } from '../../score/score.ts';
import { inSections } from '../bass/bass-notes.ts';
import type { Part, PartDirection } from '../part.ts';
import type { PlayedChord } from '../played-chords.ts';
import { rungsIn, type OwnRungs, type Rungs } from '../rungs.ts';

type Pedal = NonNullable<Note['pedal']>;

/** What the foot does, said where it begins. */
const WITH =
  'pedal: let the old one go as each new chord is struck, and press again just after it sounds';
const WITHOUT = 'without pedal';

/**
 * A part at the keys with the pedal in the sections whose rung asks for it: one pedal a chord (common practice; Banowetz 1985 quotes Liszt for it). The
 * marks stand at the chords, on the left hand's notes; how long after a chord the foot comes down is for who plays it. The
 * pedal is pressed anew at each other chord, and wherever a section or a repeat begins, as something else may have been
 * before; it goes up at a rest, where a section has none, and where a hand steps on a note outside the chord (common
 * practice: left down it blurs). What is down at the end of the part is released there.
 * @param usual what is played all through
 * @param own where a section is played otherwise
 */
export function withPedal(part: Part, usual: Rungs, own: OwnRungs | undefined): Part {
  const { score } = part;
  const pedalIn = ({ id, copyOf }: Section) => rungsIn(usual, own, copyOf ?? id).pedal === 1;
  if (!score.sections.some(pedalIn)) return part;
  const marks = marksOf(score, pedalIn);
  const voices = score.voices.map((voice) =>
    voice.id === 'left' || voice.id === 'right'
      ? { ...voice, notes: voice.notes.map((note) => marked(note, marks, voice.id)) }
      : voice,
  );
  const directions = part.directions.map((each) => withWords(each, score, pedalIn));
  return { ...part, rungs: usual, score: { ...score, voices }, directions };
}

/** Marks by hand and moment: a right hand has one only where the left strikes nothing. */
type Marks = ReadonlyMap<string, Pedal>;
const placeOf = (hand: string, at: Ticks): string => `${hand} ${String(at)}`;

function marked(note: Note, marks: Marks, hand: string): Note {
  const pedal = marks.get(placeOf(hand, note.at));
  return pedal ? { ...note, pedal } : note;
}

function marksOf(score: Score, pedalIn: (section: Section) => boolean): Marks {
  const notesOf = (hand: string) => score.voices.find(({ id }) => id === hand)?.notes ?? [];
  const [left, right] = [notesOf('left'), notesOf('right')];
  const begins = { left: startsOf(left), right: startsOf(right) };
  const chords = inSections(
    score.chords.filter((entry): entry is PlayedChord => entry.chord !== null),
    score.sections,
  );
  const starts = new Set([
    ...score.sections.map(({ from }) => from),
    ...score.bars.filter(({ repeatStart, endings }) => repeatStart || endings.length > 0).map(({ at }) => at), // prettier-ignore
  ]);
  const marks = new Map<string, Pedal>();
  let isDown = false;
  let before: PlayedChord | null = null;
  const mark = (at: Ticks, pedal: Pedal): void => {
    const hand = begins.left.has(at) ? 'left' : 'right';
    if (!begins[hand].has(at)) throw new RangeError(`no hand begins anything at tick ${at}`);
    marks.set(placeOf(hand, at), pedal);
    isDown = pedal !== 'up';
  };
  for (const chord of chords) {
    const section = score.sections.find(({ from, to }) => chord.at >= from && chord.at < to);
    const rests: Ticks | null = before && before.at + before.length < chord.at ? before.at + before.length : null; // prettier-ignore
    if (rests !== null && isDown) mark(rests, 'up');
    const isNew =
      !isDown ||
      before === null ||
      !sameChord(before.chord, chord.chord) ||
      (starts.has(chord.at) && begins.left.has(chord.at));
    if (!section || !pedalIn(section)) {
      if (isDown) mark(chord.at, 'up');
    } else {
      if (isNew) mark(chord.at, isDown ? 'change' : 'down');
      const step = firstOutside(chord, [...left, ...right]);
      if (step !== null && isDown) mark(step, 'up');
    }
    before = chord;
  }
  const end = before ? before.at + before.length : 0;
  if (isDown && (begins.left.has(end) || begins.right.has(end))) mark(end, 'up');
  return marks;
}

const startsOf = (notes: readonly Note[]): ReadonlySet<Ticks> => new Set(notes.map(({ at }) => at));

/** Where a hand first strikes a note that neither belongs to the chord nor was struck with it; null: nowhere. */
function firstOutside({ at, length, chord }: PlayedChord, notes: readonly Note[]): Ticks | null {
  const inside = notes.filter((note) => note.at >= at && note.at < at + length);
  const classes = (note: Note) => note.pitches.map((pitch) => midiOf(pitch) % 12);
  const known = new Set([
    ...tonesOf(chord).map(pitchClassOf),
    ...(chord.bass === null ? [] : [pitchClassOf(chord.bass)]),
    ...inside.filter((note) => note.at === at).flatMap(classes),
  ]);
  const outside = inside.filter((note) => classes(note).some((each) => !known.has(each)));
  return outside.length === 0 ? null : Math.min(...outside.map((note) => note.at));
}

function withWords(
  direction: PartDirection,
  { sections }: Score,
  pedalIn: (section: Section) => boolean,
): PartDirection {
  const place = sections.findIndex(({ id }) => id === direction.section);
  const [here, previous] = [sections[place], sections[place - 1]];
  if (!here) return direction;
  const was = previous !== undefined && pedalIn(previous);
  if (pedalIn(here) === was) return direction;
  return { ...direction, words: [...direction.words, was ? WITHOUT : WITH] };
}
