import type { Bar, Note, Score, Ticks, Voice } from '#music';

/** What a note has where it only passes the time. */
const RESTING: ReadonlySet<string> = new Set([
  'at',
  'length',
  'pitches',
  'hidden',
  'tuplet',
  'beam',
]);

const rests = (note: Note): boolean =>
  note.pitches.length === 0 && Object.keys(note).every((field) => RESTING.has(field));

/** The syllables of a note without the verses after the last that has one. */
function syllablesOf({ syllables = [] }: Note): Note['syllables'] {
  return syllables.slice(0, syllables.findLastIndex((each) => each !== null) + 1);
}

/** What of a voice lies in a span, from its start; what began before is only held. Empty: it rests. */
function notesIn({ notes }: Voice, from: Ticks, to: Ticks): readonly object[] {
  const inside = notes.filter(({ at, length }) => at < to && at + length > from);
  if (inside.every(rests)) return [];
  return inside.map((note) => {
    const end = Math.min(note.at + note.length, to) - from;
    if (note.at < from) return { held: note.pitches, end };
    const { at, length: _, ...rest } = note;
    return { ...rest, syllables: syllablesOf(note), at: at - from, end };
  });
}

/**
 * The chords that begin in a span, and where they leave off: a chord lasts until the next, so that how long it does is
 * said where it ends, and not in every bar in between.
 */
function chordsIn(score: Score, from: Ticks, to: Ticks): readonly unknown[] {
  const { chords } = score;
  const inside = (at: Ticks): boolean => at >= from && at < to;
  const begun = chords.flatMap(({ at, chord }) => (inside(at) ? [[at - from, chord]] : []));
  const over = chords.flatMap(({ at, length }, index) => {
    const end = at + length;
    return inside(end) && chords[index + 1]?.at !== end ? [[end - from]] : [];
  });
  return [begun, over];
}

/** What stands in a bar, from its own start: two bars with the same content are the same. */
function contentOf(score: Score, { at, length, ...bar }: Bar): string {
  const end = at + length;
  const own = <T extends { readonly at: Ticks }>(list: readonly T[]) =>
    list.filter((each) => each.at >= at && each.at < end).map((each) => ({ ...each, at: each.at - at })); // prettier-ignore
  return canonical([
    length,
    { ...bar, number: 0 },
    score.voices.flatMap((voice) => {
      const notes = notesIn(voice, at, end);
      return notes.length > 0 ? [[voice.id, notes]] : [];
    }),
    chordsIn(score, at, end),
    own(score.keys).map(({ at: place, key, signature }) => [place, key, signature]),
    own(score.meters),
    own(score.tempoChanges ?? []),
    score.sections
      .filter(({ from }) => from >= at && from < end)
      .map(({ kind, name, loop }) => [kind, name, loop]),
  ]);
}

/** The bars of a song, each as what stands in it. */
export function contents(score: Score): readonly string[] {
  return score.bars.map((bar) => contentOf(score, bar));
}

const factsBesideTitle = ({ facts }: Score): object => ({ ...facts, title: '' });

/** What a song has beyond its bars, by the words for it. */
export const BESIDES: readonly (readonly [words: string, of: (score: Score) => unknown])[] = [
  ['the title', ({ facts }) => facts.title],
  ['what stands under the title', factsBesideTitle],
  ['the tempo', ({ tempo }) => tempo],
  ['the passes', ({ form }) => form],
  ['how high it lies', ({ compass }) => compass],
  ['the verses', ({ verses }) => verses],
  ['the voices', ({ voices }) => voices.map(({ notes: _, ...voice }) => voice)],
  ['which voice has the tune', ({ melody }) => melody],
  ['what is played before the singing', ({ introduction }) => introduction],
];

export interface Differences {
  /** Indexes of the bars of each that the other has not so. */
  readonly mine: readonly number[];
  readonly theirs: readonly number[];
  /** Beyond the bars, as `BESIDES` calls it. */
  readonly besides: readonly string[];
}

/** A value as text, whatever the order of its fields. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_, each: unknown) =>
    typeof each === 'object' && each !== null && !Array.isArray(each)
      ? Object.fromEntries(Object.entries(each).sort(([a], [b]) => (a < b ? -1 : 1)))
      : each,
  );
}

/** Whether two songs, or parts of them, are the same. */
export function alike(a: unknown, b: unknown): boolean {
  return canonical(a ?? null) === canonical(b ?? null);
}

/** The bars in which two states of a song differ: what is alike at the beginning and at the end is laid on each other. */
export function differences(mine: Score, theirs: Score): Differences {
  const [here, there] = [contents(mine), contents(theirs)];
  const most = Math.min(here.length, there.length);
  let head = 0;
  while (head < most && here[head] === there[head]) head += 1;
  let tail = 0;
  while (tail < most - head && here.at(-1 - tail) === there.at(-1 - tail)) tail += 1;
  const between = (own: readonly string[], other: readonly string[]): number[] =>
    own.flatMap((content, index) => {
      if (index < head || index >= own.length - tail) return [];
      return own.length === other.length && content === other[index] ? [] : [index];
    });
  return {
    mine: between(here, there),
    theirs: between(there, here),
    besides: BESIDES.flatMap(([words, of]) => (alike(of(mine), of(theirs)) ? [] : [words])),
  };
}

/** Whether two states are the same music, whatever was asked and answered about its chords and keys. */
export function sameMusic(a: Score, b: Score): boolean {
  const { mine, theirs, besides } = differences(a, b);
  return mine.length + theirs.length + besides.length === 0;
}

/** A song with what another one of it knows better: the chords and keys of both that are certain there. */
export function withAnswers(score: Score, answered: Score): Score {
  const keys = score.keys.map((own) => {
    const other = answered.keys.find(({ at }) => at === own.at);
    const isSame = other?.signature === own.signature && alike(other.key, own.key);
    return other && isSame ? other : own;
  });
  const chords = score.chords.map((own) => {
    const other = answered.chords.find(({ at }) => at === own.at);
    return other && alike(other.chord, own.chord) ? { ...other, length: own.length } : own;
  });
  return { ...score, keys, chords };
}

/** `bar 3`, `bars 3 to 5 and 8`, `the pickup and bar 4`; by their printed numbers. */
export function sayBars(score: Score, indexes: readonly number[]): string {
  const numbers = [...new Set(indexes.map((index) => score.bars[index]?.number ?? 0))];
  const runs: [number, number][] = [];
  for (const number of numbers.filter((each) => each > 0)) {
    const last = runs.at(-1);
    if (last && last[1] === number - 1) last[1] = number;
    else runs.push([number, number]);
  }
  const said = runs.map(([from, to]) =>
    from === to ? `${from}` : to === from + 1 ? `${from} and ${to}` : `${from} to ${to}`,
  );
  const one = runs.length === 1 && runs[0]?.[0] === runs[0]?.[1];
  const last = said.pop() ?? '';
  const before = said.join(', ');
  const join = before === '' ? '' : last.includes(' and ') ? ', ' : ' and ';
  const bars = last === '' ? '' : `${one ? 'bar' : 'bars'} ${before}${join}${last}`;
  const pickup = numbers.includes(0) ? 'the pickup' : '';
  return [pickup, bars].filter(Boolean).join(' and ');
}
