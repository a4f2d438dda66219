import { write as writeChord } from '../pitch/chord-symbol.ts';
import { success, type Result } from '../result.ts';
import { SCORE_LIMITS } from '../score/limits.ts';
import type { Bar, ChordAt, Pass, Score, Section, Syllable, Ticks, Verse } from '../score/score.ts';
import { temposOf, withTempos } from '../score/tempos.ts';
import { barLength, melodyOf } from '../score/time.ts';
import { PLAIN_BAR } from './bars.ts';
import type { BarEdit } from './edit.ts';
import { isMeter } from './meters.ts';
import { refused } from './refusal.ts';
import { silence } from './voices.ts';

type GiveTime = Extract<BarEdit, { readonly do: 'give time' }>;

/** A line of words with its chords, which became one bar of an order. */
interface Line {
  readonly bar: Bar;
  readonly chords: readonly ChordAt[];
}

/** One verse's words of one section. */
interface Text {
  readonly section: Section;
  /** Number of the verse in the song without time; null: nothing is sung. */
  readonly was: number | null;
  readonly lines: readonly string[];
}

/** Bars for a song of words and chords. See the edit `give time`. */
function giveTime(score: Score, { meter, barsPerChord }: GiveTime): Result<Score> {
  if (!score.untimed) return refused('This song has its bars already.');
  const full = isMeter(meter) ? barLength(meter) : null;
  if (full === null) return refused('Bars need a meter, such as 4/4.');
  const each = barsPerChord * full;
  if (!(barsPerChord > 0 && barsPerChord <= 16) || !Number.isInteger(each)) {
    return refused('A chord lasts half a bar, one, two or four bars, not longer than sixteen.');
  }
  const groups = groupsOf(score);
  const kept = groups.map(({ first }) => first);
  const laid = layBars(score, kept, full, each);
  if (laid.bars.length > SCORE_LIMITS.bars)
    return refused('That would be too many bars for a song.');
  const { verses, form } = versesOf(score, groups);
  if (verses.length > SCORE_LIMITS.verses) return refused('The song has too many verses for that.');
  const { untimed: _untimed, tempoChanges: _changes, ...timed } = score;
  const melody = {
    id: 'melody',
    name: 'Melody',
    group: 'Singer',
    staff: 1,
    clef: 'treble' as const,
    notes: silence(laid),
  };
  return success({
    ...timed,
    ...laid,
    meters: [{ at: 0, meter: { beats: meter.beats, unit: meter.unit } }],
    voices: [melody],
    melody: melody.id,
    verses,
    form,
    introduction: [],
  });
}

const linesIn = ({ bars, chords }: Score, { from, to }: Section): Line[] =>
  bars
    .filter((bar) => bar.at >= from && bar.at < to)
    .map((bar) => ({
      bar,
      chords: chords.filter(({ at }) => at >= bar.at && at < bar.at + bar.length),
    }));

const symbols = (line: Line): string =>
  line.chords.map(({ chord }) => (chord ? writeChord(chord) : 'N.C.')).join(' ');

interface Group {
  readonly first: Section;
  readonly members: Section[];
}

/**
 * Verses that stand over the same chords, line by line, are verses of one section, and so is one of as many lines that
 * has no chords written: it is sung to those of the first.
 */
function groupsOf(score: Score): Group[] {
  const groups: Group[] = [];
  for (const section of score.sections) {
    const lines = linesIn(score, section);
    if (lines.length === 0) continue;
    const hasKey = score.keys.some(({ at }) => at > 0 && at >= section.from && at < section.to);
    const own = lines.map(symbols);
    const fits = groups.find(({ first }) => {
      if (hasKey || first.kind !== 'verse' || section.kind !== 'verse') return false;
      const others = linesIn(score, first);
      if (others.length !== lines.length) return false;
      const signs = ({ bar }: Line): string => `${bar.repeatStart} ${bar.repeatEnd}`;
      if (others.some((line, i) => signs(line) !== signs(lines[i] as Line))) return false;
      return own.every((each) => each === '') || others.map(symbols).join('|') === own.join('|');
    });
    if (fits) fits.members.push(section);
    else groups.push({ first: section, members: [section] });
  }
  return groups;
}

function layBars(
  score: Score,
  sections: readonly Section[],
  full: Ticks,
  each: Ticks,
): Pick<Score, 'bars' | 'chords' | 'sections' | 'keys' | 'tempo' | 'tempoChanges'> {
  const bars: Bar[] = [];
  const chords: ChordAt[] = [];
  const made: Section[] = [];
  const places = new Map<Ticks, Ticks>();
  let at = 0;
  for (const section of sections) {
    const from = at;
    for (const line of linesIn(score, section)) {
      places.set(line.bar.at, at);
      line.chords.forEach(({ chord }, i) => {
        chords.push({ at: at + i * each, length: 0, chord });
      });
      const count = Math.ceil((Math.max(1, line.chords.length) * each) / full);
      for (let i = 0; i < count; i += 1) {
        const { repeatStart, repeatEnd, endings, line: end } = line.bar;
        bars.push({
          ...PLAIN_BAR,
          number: bars.length + 1,
          at,
          length: full,
          line: i === count - 1 ? end : 'single',
          repeatStart: repeatStart && i === 0,
          repeatEnd: repeatEnd && i === count - 1,
          endings,
        });
        at += full;
      }
    }
    if (at > from) made.push({ ...section, name: nameOf(section), from, to: at });
  }
  const last = bars.at(-1);
  if (last) bars[bars.length - 1] = { ...last, line: 'final' };
  const lasting = chords.map((chord, i): ChordAt => {
    const section = made.find(({ from, to }) => from <= chord.at && chord.at < to);
    const to = Math.min(chords[i + 1]?.at ?? Infinity, section?.to ?? at);
    return { ...chord, length: to - chord.at };
  });
  const placed = <T extends { readonly at: Ticks }>(list: readonly T[]): T[] =>
    list.flatMap((each) => {
      const place = each.at === 0 ? 0 : places.get(each.at);
      return place === undefined ? [] : [{ ...each, at: place }];
    });
  const { tempo, tempoChanges } = withTempos(score, placed(temposOf(score)));
  return {
    bars,
    chords: lasting,
    sections: made,
    keys: placed(score.keys),
    tempo,
    ...(tempoChanges && { tempoChanges }),
  };
}

/** Passes say the number of a verse; its section is called after none. */
const nameOf = ({ kind, name }: Section): string =>
  kind === 'verse' ? name.replace(/[\s.:]*\d+[.:]?$/u, '') || 'Verse' : name;

/** The words of each section and verse as lines below the music, numbered: verses first, then all else under its name. */
function versesOf(
  score: Score,
  groups: readonly Group[],
): { verses: Verse[]; form: readonly Pass[] } {
  const texts = groups.flatMap(({ members }) => members.flatMap((section) => textsOf(score, section))); // prettier-ignore
  const ofVerses = texts.filter(({ section }) => section.kind === 'verse');
  // Verses are numbered as they come in the song, whichever section they stand in.
  ofVerses.sort((a, b) => a.section.from - b.section.from);
  const others = texts.filter(({ section }) => section.kind !== 'verse');
  const numbered = [...ofVerses, ...others].map((text, i) => ({ ...text, number: i + 1 }));
  const verses = numbered.map(({ section, lines, number }): Verse => {
    const isOnly = ofVerses.length === 1 && others.length === 0;
    const label = section.kind !== 'verse' ? section.name : isOnly ? '' : `${number}.`;
    return { number, label, lines };
  });
  const form = score.form.flatMap(({ section, verse }): Pass[] => {
    const group = groups.find(({ members }) => members.some(({ id }) => id === section));
    if (!group) return [];
    const own = numbered.filter((text) => text.section.id === section);
    const text = own.find(({ was }) => was === verse) ?? own[0];
    return [{ section: group.first.id, verse: text?.number ?? null }];
  });
  return { verses, form };
}

function textsOf(score: Score, section: Section): Text[] {
  const { notes } = melodyOf(score);
  return score.verses.flatMap(({ number }, index): Text[] => {
    const lines = linesIn(score, section).flatMap(({ bar }) => {
      const inside = notes.filter(({ at }) => at >= bar.at && at < bar.at + bar.length);
      const sung = inside.flatMap(({ syllables }) => syllables?.[index] ?? []);
      const text = joined(sung);
      return text === '' ? [] : [text];
    });
    return lines.length > 0 ? [{ section, was: number, lines }] : [];
  });
}

function joined(syllables: readonly Syllable[]): string {
  return syllables.map(({ text, hyphen }) => (hyphen ? text : `${text} `)).join('').trim(); // prettier-ignore
}

export const TIME = { 'give time': giveTime };
