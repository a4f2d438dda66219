import { sameKey } from '../../pitch/key.ts';
import type { Bar, ChordAt, Note, Score, Section, Span, Ticks, Voice } from '../../score/score.ts';
import { changingKeys, changingMeters, cut, inForceOver } from '../../score/cuts.ts';
import { barAt, endOf, inForce } from '../../score/time.ts';
import { passesOf, unfold } from '../../score/form.ts';
import { phraseEnds } from '../../score/phrase-ends.ts';

export interface Introduction {
  /** What is played before the singing, in order, in whole bars of the song (the last may be cut short). */
  readonly spans: readonly Span[];
  /** Whether the source marks it; else it is proposed. */
  readonly marked: boolean;
}

/** Id of the section that `withIntroduction` puts before the others. */
export const INTRODUCTION = 'introduction';

/** A phrase of a song is four bars long, more often than not (common practice). */
const PHRASE = 4;

/**
 * The introduction as the source marks it, or the last phrase of the song (common practice of hymn players). Chords
 * carry it, so it begins at a bar line: what is marked before one (the pickup of a phrase) is left out.
 */
export function introductionOf(score: Score): Introduction {
  const marked = score.introduction
    .map(({ from, to }) => ({ from: firstBarLine(score, from), to }))
    .filter(({ from, to }) => to > from);
  if (marked.length > 0) return { spans: marked, marked: true };
  return { spans: lastPhrase(score), marked: false };
}

function firstBarLine(score: Score, at: Ticks): Ticks {
  return score.bars.find((bar) => bar.at >= at && bar.number !== 0)?.at ?? endOf(score);
}

function lastPhrase(arranged: Score): Span[] {
  const score = asFirstSung(arranged);
  const home = homeSection(score);
  const played = home ? score.bars.filter((bar) => isIn(bar, home)) : lastRound(score);
  const ends = phraseEnds(score);
  let best: { index: number; cost: number } | null = null;
  // A whole section may be one phrase; a whole song would be no introduction.
  const earliest = home ? 0 : 1;
  for (let index = Math.max(earliest, played.length - 2 * PHRASE); index < played.length; index++) {
    const length = played.length - index;
    const before = score.bars.indexOf(played[index] as Bar) - 1;
    const cost = Math.abs(length - PHRASE) + 2 * (1 - (before < 0 ? 1 : (ends[before] ?? 0)));
    if (played[index]?.number !== 0 && (!best || cost < best.cost)) best = { index, cost };
  }
  return best ? spansOf(played.slice(best.index)) : [];
}

/**
 * Where passes are raised: the song with all of them in the key in which their section is first sung, as those sections
 * stand in their places. So a last verse in another key does not change what leads the singers in.
 */
function asFirstSung(score: Score): Score {
  if (score.sections.every(({ up }) => up === undefined)) return score;
  const sourceOf = ({ id, copyOf }: Section): string => copyOf ?? id;
  const first = (section: Section): Section =>
    score.sections.find((each) => sourceOf(each) === sourceOf(section)) ?? section;
  const sections = score.sections.filter((each) => first(each) === each);
  const end = Math.max(...sections.map(({ to }) => to));
  return {
    ...score,
    sections,
    bars: score.bars.filter(({ at }) => at < end),
    form: passesOf(score).map(({ pass, section }) => ({ ...pass, section: first(section).id })),
  };
}

const isIn = (bar: Bar, { from, to }: Span): boolean => bar.at < to && bar.at + bar.length > from;

/**
 * Where a song ends in another key than it begins in, its end would lead the singers into the wrong one. Then the
 * introduction is taken from the section that is sung most often in the first key, the later one of equals. Null: the
 * song ends where it began, or no section lies in the first key alone.
 */
function homeSection(score: Score): Section | null {
  const [first] = score.keys;
  if (!first || sameKey(inForce(score.keys, endOf(score) - 1).key, first.key)) return null;
  const passes = (section: Section): number =>
    score.form.filter((pass) => pass.section === section.id).length;
  return score.sections
    .filter(({ from, to }) =>
      score.keys.every(({ at, key }) => at >= to || sameKey(key, first.key) || at < from),
    )
    .filter(({ from }) => sameKey(inForce(score.keys, from).key, first.key))
    .reduce<Section | null>(
      (best, section) => (best && passes(best) > passes(section) ? best : section),
      null,
    );
}

/** The bars as they are played the last time, up to the end: without a jump back, only the last ending. */
function lastRound(score: Score): Bar[] {
  const spans: Span[] = [];
  // What goes round and round as long as it is needed leads nobody in.
  const loops = score.sections.filter(({ kind }) => kind === 'vamp').map(({ id }) => id);
  const played = unfold(score).filter(({ pass }) => !loops.includes(pass.section));
  for (const stretch of played.reverse()) {
    const next = spans[0];
    if (next && stretch.to > next.from) break;
    spans.unshift(stretch);
  }
  return score.bars.filter((bar) => spans.some((span) => isIn(bar, span)));
}

function spansOf(bars: readonly Bar[]): Span[] {
  const spans: { from: Ticks; to: Ticks }[] = [];
  for (const { at, length } of bars) {
    const last = spans.at(-1);
    if (last?.to === at) last.to = at + length;
    else spans.push({ from: at, to: at + length });
  }
  return spans;
}

function restsFor(bars: readonly Bar[]): Note[] {
  return bars.map(({ at, length }) => ({ at, length, pitches: [] }));
}

const plainBar = (bar: Bar): Bar => ({
  ...bar,
  copyOf: bar.number,
  number: 0,
  line: 'single',
  repeatStart: false,
  repeatEnd: false,
  endings: [],
});

/** A repeat that goes back to the beginning says so where the beginning is no longer the first bar. */
function fromHere(bars: readonly Bar[]): Bar[] {
  const first = bars.find(({ repeatStart, repeatEnd }) => repeatStart || repeatEnd);
  const isOpen = first?.repeatEnd === true && !first.repeatStart;
  return bars.map((bar, i) => (i === 0 && isOpen ? { ...bar, repeatStart: true } : bar));
}

/**
 * The song with its introduction written out before it: the bars are copies without a number, so that bar 1 stays the
 * bar that everybody calls bar 1; every voice rests in them; their chords are there. It is played in the tempo that the
 * song begins in, whatever bars it takes, as it leads the singers into that one (common practice).
 */
export function withIntroduction(score: Score, { spans }: Introduction): Score {
  const lead: {
    bars: Bar[];
    chords: ChordAt[];
    keys: Score['keys'][number][];
    meters: Score['meters'][number][];
  } = {
    bars: [],
    chords: [],
    keys: [],
    meters: [],
  };
  let length = 0;
  for (const span of spans) {
    const moved = length - span.from;
    lead.bars.push(...cut(score.bars, span, moved).map(plainBar));
    lead.chords.push(...cut(score.chords, span, moved));
    lead.keys.push(...inForceOver(score.keys, span, moved));
    lead.meters.push(...inForceOver(score.meters, span, moved));
    length += span.to - span.from;
  }
  const last = lead.bars.at(-1);
  if (!last) return score;
  lead.bars[lead.bars.length - 1] = { ...last, line: 'double' };
  const later = <T extends { readonly at: Ticks }>(list: readonly T[]): T[] =>
    list.map((each) => ({ ...each, at: each.at + length }));
  const section: Section = {
    id: INTRODUCTION,
    kind: 'intro',
    name: 'Introduction',
    from: 0,
    to: length,
  };
  const { tempoChanges } = score;
  return {
    ...score,
    ...(tempoChanges && { tempoChanges: later(tempoChanges) }),
    keys: changingKeys([...lead.keys, ...later(score.keys)]),
    meters: changingMeters([...lead.meters, ...later(score.meters)]),
    bars: [...lead.bars, ...later(fromHere(score.bars))],
    voices: score.voices.map((voice): Voice => ({
      ...voice,
      notes: [...restsFor(lead.bars), ...later(voice.notes)],
    })),
    chords: [...lead.chords, ...later(score.chords)],
    sections: [
      section,
      ...score.sections.map((each) => ({
        ...each,
        from: each.from + length,
        to: each.to + length,
      })),
    ],
    form: [{ section: INTRODUCTION, verse: null }, ...score.form],
    introduction: [],
  };
}

/** The bars of the song that an introduction takes, as musicians say it: `bars 13 to 16`, `bar 8`. */
export function sayBars(score: Score, { from, to }: Span): string {
  const first = barAt(score, from).number;
  const last = barAt(score, to - 1).number;
  if (first === last) return `bar ${first}`;
  return `bars ${first} ${last === first + 1 ? 'and' : 'to'} ${last}`;
}

/** `introduction, the last phrase, a proposal: bars 13 to 16`; without one `no introduction`. */
export function sayIntroductionBars(score: Score, { spans, marked }: Introduction): string {
  if (spans.length === 0) return 'no introduction';
  const from = marked ? 'as the source marks it' : 'the last phrase, a proposal';
  return `introduction, ${from}: ${spans.map((span) => sayBars(score, span)).join(', then ')}`;
}
