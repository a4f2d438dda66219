import { failure, type Result } from '../result.ts';
import { QUARTER, type Bar, type Score, type Ticks, type Voice } from '../score/score.ts';
import { inForce } from '../score/time.ts';
import { header } from './musicxml/header.ts';
import { measureXml, type PartContext, type PartVoice } from './musicxml/measure.ts';
import { piecesOf, type Piece } from './musicxml/pieces.ts';
import { el, serialise, text, type Xml } from './musicxml/xml.ts';

export interface MusicXmlOptions {
  /** Ids of the voices to write, missing: all. */
  readonly voices?: readonly string[];
  /** Numbers of the verses under the notes, missing: all that have syllables. */
  readonly verses?: readonly number[];
  /** Chord symbols over the melody; missing: `apart`, degrees as elements; `printed`: in the printed text only. */
  readonly chords?: false | 'apart' | 'printed';
  readonly fingers?: boolean;
  /** Missing: `printed`. */
  readonly tempo?: 'printed' | 'sounding';
  /** Indexes of the bars that begin a new line. */
  readonly breaks?: readonly number[];
  /** Give notes and rests ids, `at-<index of the voice>-<ticks from the start>`, where a drawing is worked on; missing: none. */
  readonly ids?: boolean;
  /** Print the names of the parts before their staves; missing: true. */
  readonly names?: boolean;
}

/** A score from MusicXML, as text or bytes, plain or compressed. */
export function read(input: string | Uint8Array): Result<Score> {
  return failure({ code: 'no-musicxml', message: `${input.length} are not read yet.` });
}

const DOCTYPE =
  '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">';

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}

/** The longest tick span that every written length and chord place is a whole number of. */
function perDivision(score: Score, pieces: readonly (readonly Piece[])[][]): number {
  const lengths: Ticks[] = [QUARTER];
  for (const bar of score.bars) lengths.push(bar.at, bar.length);
  for (const voice of pieces) {
    for (const bar of voice) for (const { at, value } of bar) lengths.push(at, value.length);
  }
  for (const { at } of [...score.chords, ...score.keys, ...score.meters]) lengths.push(at);
  return lengths.reduce(gcd);
}

interface PartPlan {
  readonly name: string;
  readonly voices: readonly Voice[];
  readonly staves: readonly number[];
}

/** Voices of one group are one part; parts and staves stand from the top of the score down. */
function partsOf(voices: readonly Voice[]): PartPlan[] {
  const groups = new Map<string, Voice[]>();
  for (const voice of voices) groups.set(voice.group, [...(groups.get(voice.group) ?? []), voice]);
  return [...groups]
    .map(([name, members]) => ({
      name,
      voices: [...members].sort((a, b) => a.staff - b.staff),
      staves: [...new Set(members.map(({ staff }) => staff))].sort((a, b) => a - b),
    }))
    .sort((a, b) => (a.staves[0] ?? 0) - (b.staves[0] ?? 0));
}

/** The verses to print, in the order asked, each on a line of its own. */
function versesOf(score: Score, chosen: readonly number[] | undefined) {
  const sung = score.verses
    .map((verse, index) => ({ verse, index }))
    .filter(({ verse }) => !chosen || chosen.includes(verse.number));
  return sung.map((each, order) => ({ ...each, line: order + 1 }));
}

function contextOf(
  score: Score,
  plan: PartPlan,
  leads: boolean,
  pieces: ReadonlyMap<string, Piece[][]>,
  division: number,
  options: MusicXmlOptions,
): PartContext {
  const verses = versesOf(score, options.verses);
  const many = plan.staves.length > 1;
  const inPart: PartVoice[] = plan.voices.map((voice, order) => {
    const sharing = plan.voices.filter(({ staff }) => staff === voice.staff);
    const staffIndex = plan.staves.indexOf(voice.staff);
    return {
      voice,
      bars: pieces.get(voice.id) ?? [],
      context: {
        voice: staffIndex * 4 + sharing.indexOf(voice) + 1,
        staff: many ? staffIndex + 1 : null,
        stem: sharing.length < 2 ? null : sharing.indexOf(voice) % 2 === 0 ? 'up' : 'down',
        verses,
        fingers: options.fingers ?? true,
        fingersBelow: many && voice.staff === plan.staves.at(-1),
        slurs: { from: order * 4, open: 0 },
        perDivision: division,
        ids: options.ids ? `at-${score.voices.indexOf(voice)}` : null,
        labelled: new Set(),
      },
    };
  });
  const melody = plan.voices.find(({ id }) => id === score.melody);
  return {
    score,
    perDivision: division,
    voices: inPart,
    staves: plan.staves,
    leads,
    chords: options.chords ?? 'apart',
    chordStaff: many ? Math.max(0, plan.staves.indexOf(melody?.staff ?? -1)) + 1 : null,
    tempo: options.tempo ?? 'printed',
    breaks: new Set(options.breaks ?? []),
  };
}

/**
 * A score as MusicXML 4.0 partwise, valid against the schema of the W3C (musicxml.xsd). Lengths are exact: the
 * divisions are the finest that the score needs. Sections and the form are not written: MusicXML has no place
 * for them.
 */
export function write(score: Score, options: MusicXmlOptions = {}): string {
  const voices = score.voices.filter(({ id }) => !options.voices || options.voices.includes(id));
  if (voices.length === 0 || score.bars.length === 0) {
    throw new RangeError('a score without voices or bars cannot be written');
  }
  const meterOf = (bar: Bar) => inForce(score.meters, bar.at).meter;
  const pieces = new Map(voices.map((voice) => [voice.id, piecesOf(voice, score.bars, meterOf)]));
  const division = perDivision(score, [...pieces.values()]);
  const plans = partsOf(voices);
  const leading =
    plans.find((plan) => plan.voices.some(({ id }) => id === score.melody)) ?? plans[0];
  const shown = options.names === false ? { 'print-object': 'no' } : {};
  const list: Xml[] = plans.map((plan, index) =>
    el('score-part', { id: `P${index + 1}` }, text('part-name', plan.name, shown)),
  );
  const parts: Xml[] = plans.map((plan, index) => {
    const part = contextOf(score, plan, plan === leading, pieces, division, options);
    return el(
      'part',
      { id: `P${index + 1}` },
      score.bars.map((_, bar) => measureXml(part, bar)),
    );
  });
  const root = el(
    'score-partwise',
    { version: '4.0' },
    header(score),
    el('part-list', {}, list),
    parts,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>\n${DOCTYPE}\n${serialise(root)}`;
}
