import type { Chord } from '../../pitch/chord.ts';
import type { NamedNotes } from '../../pitch/note-names.ts';
import type { Bar, ChordAt, KeyAt, Meter, Score, Ticks, Voice } from '../../score/score.ts';
import type { SectionStart } from '../../score/sections.ts';
import { temposOf } from '../../score/tempos.ts';
import { barLength, inForce } from '../../score/time.ts';
import { directionsOf, lastPedal, sectionXml, tempoXml } from './directions.ts';
import { harmony, namedHarmony } from './harmony.ts';
import { noteXml, type VoiceContext } from './note.ts';
import { saysKey } from './says-key.ts';
import { accidentals, type Piece } from './pieces.ts';
import { el, text, type Xml } from './xml.ts';

/** One part while it is written: its voices, cut into bars. */
export interface PartContext {
  readonly score: Score;
  readonly perDivision: number;
  readonly voices: readonly PartVoice[];
  /** Staff numbers of the whole score, top down: this part's staves. */
  readonly staves: readonly number[];
  /** The part that carries the chord symbols, the tempo and the words of the whole score. */
  readonly leads: boolean;
  readonly chords: false | 'apart' | 'printed';
  readonly chordNames: NamedNotes;
  /** Staff (in this part) over which chords stand; null where the part has one staff. */
  readonly chordStaff: number | null;
  /** The one at the start: also as a mark, or for the ear only. Changes are printed in any case. */
  readonly tempo: 'printed' | 'sounding';
  readonly breaks: ReadonlySet<number>;
  /** Names of sections to print where they begin. */
  readonly marks: readonly SectionStart[];
  /** For other programs, not for an engraver of one system: what is said holds without the score beside it. */
  readonly file: boolean;
}

export interface PartVoice {
  readonly voice: Voice;
  readonly bars: readonly (readonly Piece[])[];
  readonly context: VoiceContext;
}

const BAR_STYLE: Readonly<Record<Bar['line'], string | null>> = {
  single: null,
  double: 'light-light',
  final: 'light-heavy',
  none: 'none',
  dashed: 'dashed',
};

const sameEndings = (a: Bar | undefined, b: Bar) =>
  a !== undefined && a.endings.join() === b.endings.join();

function leftLine(bar: Bar, before: Bar | undefined): Xml | false {
  const opens = bar.endings.length > 0 && !sameEndings(before, bar);
  if (!opens && !bar.repeatStart) return false;
  const number = bar.endings.join(',');
  return el(
    'barline',
    { location: 'left' },
    bar.repeatStart && text('bar-style', 'heavy-light'),
    opens && text('ending', `${bar.endings.join('., ')}.`, { number, type: 'start' }),
    bar.repeatStart && el('repeat', { direction: 'forward' }),
  );
}

function rightLine(bar: Bar, after: Bar | undefined): Xml | false {
  const closes = bar.endings.length > 0 && !sameEndings(after, bar);
  const style = bar.repeatEnd ? 'light-heavy' : BAR_STYLE[bar.line];
  if (!closes && style === null) return false;
  const type = bar.repeatEnd || after !== undefined ? 'stop' : 'discontinue';
  return el(
    'barline',
    { location: 'right' },
    style !== null && text('bar-style', style),
    closes && el('ending', { number: bar.endings.join(','), type }),
    bar.repeatEnd && el('repeat', { direction: 'backward' }),
  );
}

function timeXml(meter: Meter): Xml {
  if (meter.beats === null) return el('time', { 'print-object': 'no' }, el('senza-misura'));
  return el('time', {}, text('beats', meter.beats), text('beat-type', meter.unit));
}

function clefXml(part: PartContext, staff: number, index: number): Xml {
  const clef = part.voices.find(({ voice }) => voice.staff === staff)?.voice.clef ?? 'treble';
  return el(
    'clef',
    part.staves.length > 1 ? { number: index + 1 } : {},
    text('sign', clef.startsWith('bass') ? 'F' : 'G'),
    text('line', clef.startsWith('bass') ? 4 : 2),
    clef.endsWith('-8') && text('clef-octave-change', -1),
  );
}

/** A mode that does not go with its signature would name another key to everybody else. */
function keyXml(part: PartContext, key: KeyAt): Xml {
  const mode = !part.file || saysKey(key) ? text('mode', key.key.mode) : null;
  return el('key', {}, text('fifths', key.signature), mode);
}

/** The attributes that begin at a moment; null where none does. */
function attributesAt(part: PartContext, at: Ticks, first: boolean): Xml | null {
  const key = part.score.keys.find((each) => each.at === at);
  const meter = part.score.meters.find((each) => each.at === at);
  if (!key && !meter && !first) return null;
  return el(
    'attributes',
    {},
    first && text('divisions', 20160 / part.perDivision),
    key && keyXml(part, key),
    meter && timeXml(meter.meter),
    first && part.staves.length > 1 && text('staves', part.staves.length),
    first && part.staves.map((staff, index) => clefXml(part, staff, index)),
  );
}

/** The tempo that begins at a moment. A page says the one at the start in its heading. */
function tempoAt(part: PartContext, at: Ticks): Xml | null {
  const tempo = part.leads ? temposOf(part.score).find((each) => each.at === at)?.tempo : null;
  return tempo ? tempoXml(tempo, at > 0 || part.tempo === 'printed', part.file) : null;
}

/** Chord symbols of a bar by the written note of the first voice that they stand at or in. */
function chordsOf(part: PartContext, bar: Bar): ChordAt[] {
  if (!part.leads || !part.chords) return [];
  return part.score.chords.filter(({ at }) => at >= bar.at && at < bar.at + bar.length);
}

/** Names of the sections that begin in a bar. */
function sectionsXml(part: PartContext, { at, length }: Bar): Xml[] {
  return part.marks
    .filter((mark) => mark.at >= at && mark.at < at + length)
    .map((mark) => sectionXml(mark.name, (mark.at - at) / part.perDivision, part.chordStaff));
}

/**
 * Attributes and tempos that change inside a bar stand in a lane of their own before the notes: not every reader follows
 * the offset of a tempo.
 */
function changesInside(part: PartContext, bar: Bar): Xml[] {
  const end = bar.at + bar.length;
  const { keys, meters, tempoChanges = [] } = part.score;
  const times = [...keys, ...meters, ...tempoChanges]
    .map(({ at }) => at)
    .filter((at) => at > bar.at && at < end);
  return [...new Set(times)].flatMap((at) => {
    const duration = text('duration', (at - bar.at) / part.perDivision);
    const changed = [attributesAt(part, at, false), tempoAt(part, at)].filter((each) => each !== null); // prettier-ignore
    return changed.length > 0
      ? [el('forward', {}, duration), ...changed, el('backup', {}, duration)]
      : [];
  });
}

/** Whether a bar begins at a bar line of the meter, and does not complete a short one before it; the first begins none if it is short. */
function beginsAtLine({ bars, meters }: Score, index: number): boolean {
  let into = 0;
  for (const [i, { at, length }] of bars.slice(0, index + 1).entries()) {
    const full = barLength(inForce(meters, at).meter) ?? length;
    if (i === 0) into = Math.max(0, full - length);
    if (i === index) return into === 0;
    into = i === 0 ? 0 : (into + length) % full;
  }
  return false;
}

/**
 * The name of a measure: the pickup is 0 and uncounted, the rest of a bar cut in two is `X` and its number. In a file the
 * bars of an introduction are 0 too, but not uncounted: some readers add those to the bar before (musicxml2ly 2.24).
 */
function nameOf(
  bar: Bar,
  before: Bar | undefined,
  isIntroduction: boolean,
): Record<string, string> {
  if (bar.number === 0) return { number: '0', ...(!isIntroduction && { implicit: 'yes' }) };
  if (before?.number === bar.number) return { number: `X${bar.number}`, implicit: 'yes' };
  return { number: String(bar.number) };
}

function chordXml(part: PartContext, chord: Chord | null, at: Ticks, offset: number): Xml {
  const { chordStaff, chords, chordNames: names } = part;
  if (chords === 'printed' && (names !== 'english' || !chord || chord.kind === 'none')) {
    const { key } = inForce(part.score.keys, at);
    return namedHarmony(chord, chordStaff, offset, { names, key });
  }
  return harmony(chord, chordStaff, offset, chords || 'apart');
}

export function measureXml(part: PartContext, index: number): Xml {
  const { score } = part;
  const bar = score.bars[index] as Bar;
  const before = score.bars[index - 1];
  const pending = chordsOf(part, bar);
  const isIntroduction = part.file && bar.copyOf !== undefined && beginsAtLine(score, index);
  const staffSigns = part.staves.map((staff) =>
    accidentals(
      part.voices.filter(({ voice }) => voice.staff === staff).map(({ bars }) => bars[index] ?? []),
      (at) => inForce(score.keys, bar.at + at).signature,
    ),
  );
  const lowest = part.staves.length > 1 ? part.staves.length : null;
  const lanes = part.voices.map(({ voice, bars, context }, order) => {
    const signs = staffSigns[part.staves.indexOf(voice.staff)];
    const lane = (bars[index] ?? []).flatMap((piece) => {
      const starts = bar.at + piece.at;
      const due =
        order === 0
          ? pending.filter(({ at }) => at >= starts && at < starts + piece.value.length)
          : [];
      return [
        ...due.map(({ chord, at }) => chordXml(part, chord, at, (at - starts) / part.perDivision)),
        piece.first && directionsOf(piece.note, context, lowest, part.file),
        ...noteXml(piece, signs?.get(piece) ?? new Map(), context, starts),
      ];
    });
    const isLast = index === score.bars.length - 1;
    return isLast ? [...lane, lastPedal(part.voices, voice, lowest, part.file)] : lane;
  });
  const length = text('duration', bar.length / part.perDivision);
  const content = lanes.flatMap((lane, order) =>
    order === 0 ? lane : [el('backup', {}, length), ...lane],
  );
  return el(
    'measure',
    {
      ...nameOf(bar, before, isIntroduction),
      id: `${part.leads ? 'bar' : `bar-${part.staves[0]}`}-${index}`,
    },
    part.breaks.has(index) && el('print', { 'new-system': 'yes' }),
    attributesAt(part, bar.at, index === 0),
    changesInside(part, bar),
    leftLine(bar, before),
    sectionsXml(part, bar),
    tempoAt(part, bar.at),
    content,
    rightLine(bar, score.bars[index + 1]),
  );
}
