import { PRICES } from './terms.ts';

/** What something costs, and what it stands for. */
export interface Price {
  readonly words: string;
  /** `30`, `2, 4, 8, 12`. */
  readonly points: string;
}

/** Every price of a plan in words, to print beside it. */
export function prices(): readonly Price[] {
  const { joinRelative, joinNear, joinSome, joinNone } = PRICES;
  return [
    price('each half step that the tune lies off the middle of the lead’s range', 'leadOffMiddle'),
    price('a lead at the edge of their range', 'leadAtEdge'),
    price('a lead outside their range, for all of the time sung', 'leadOutside'),
    price('a song that nobody can lead in comfort', 'leadBeyond'),
    price('another singer outside their range, for all of the time sung', 'singerOutside'),
    price('the congregation outside its range, for all of the time sung', 'roomOutside'),
    price('a key twice as hard for the hands as the easiest', 'handsTwice'),
    price('hands, at the most', 'handsMost'),
    price('another key than the usual one', 'unusual'),
    price('and each half step away from it', 'unusualStep'),
    {
      words: 'from song to song, by the chords that are in both keys: 7, 4 or more, some, none',
      points: [joinRelative, joinNear, joinSome, joinNone].join(', '),
    },
    {
      words: 'the same with a reading or prayer between',
      points: `× ${PRICES.joinApart}`,
    },
    price('each step fuller or quieter than the shape that was drawn', 'shape'),
  ];
}

const price = (words: string, name: keyof typeof PRICES): Price => ({
  words,
  points: String(PRICES[name]),
});
