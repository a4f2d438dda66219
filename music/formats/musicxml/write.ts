import { QUARTER, type Bar, type Score, type Ticks, type Voice } from '../../score/score.ts';
import type { PitchName } from '../../pitch/pitch.ts';
import { inForce } from '../../score/time.ts';
import { credits, header } from './header.ts';
import { HELD } from './held.ts';
import { measureXml, type PartContext, type PartVoice } from './measure.ts';
import { piecesOf, type Piece } from './pieces.ts';
import { sectionMarks } from './section-marks.ts';
import { ownFieldOf } from './own-field-of.ts';
import { partsOf, type PartPlan } from './part-plan.ts';
import type { WriteOptions } from './write-options.ts';
import { el, serialise, text, type Xml } from './xml.ts';

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
  const { chords, keys, meters, tempoChanges = [] } = score;
  for (const { at } of [...chords, ...keys, ...meters, ...tempoChanges]) lengths.push(at);
  return lengths.reduce(gcd);
}

/** The verses to print, in the order asked, each on a line of its own. */
function versesOf(score: Score, chosen: readonly number[] | undefined) {
  const sung = score.verses
    .map((verse, index) => ({ verse, index }))
    .filter(({ verse }) => !chosen || chosen.includes(verse.number));
  return sung.map((each, order) => ({ ...each, line: order + 1 }));
}

/** What sounds on the middle line of a staff. */
const MIDDLE_LINE: Readonly<Record<Voice['clef'], PitchName>> = {
  treble: 'B4',
  'treble-8': 'B3',
  bass: 'D3',
  'bass-8': 'D2',
};

function contextOf(
  score: Score,
  plan: PartPlan,
  leads: boolean,
  pieces: ReadonlyMap<string, Piece[][]>,
  division: number,
  options: WriteOptions,
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
        restWords: options.purpose === 'engraving' ? MIDDLE_LINE[voice.clef] : null,
        held: options.purpose === 'engraving' ? null : `${HELD}-${score.voices.indexOf(voice)}`,
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
    chordNames: options.chordNames ?? 'english',
    chordStaff: many ? Math.max(0, plan.staves.indexOf(melody?.staff ?? -1)) + 1 : null,
    tempo: options.tempo ?? 'printed',
    breaks: new Set(options.breaks ?? []),
    marks: options.purpose === 'engraving' || !leads ? [] : sectionMarks(score),
    file: options.purpose !== 'engraving',
  };
}

/** A score as MusicXML: see the door, `musicxml.ts`. */
export function writeScore(score: Score, options: WriteOptions): string {
  const voices = score.voices.filter(({ id }) => !options.voices || options.voices.includes(id));
  if (voices.length === 0 || score.bars.length === 0) {
    throw new RangeError('a score without voices or bars cannot be written');
  }
  const meterOf = (bar: Bar) => inForce(score.meters, bar.at).meter;
  const pieces = new Map(
    voices.map((voice) => [voice.id, piecesOf(voice, score.bars, meterOf, score.sections)]),
  );
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
  const own = options.purpose === 'engraving' ? null : ownFieldOf(score, plans);
  const root = el(
    'score-partwise',
    { version: '4.0' },
    header(score, own),
    credits(score, options.rubric),
    el('part-list', {}, list),
    parts,
  );
  return `<?xml version="1.0" encoding="UTF-8"?>\n${DOCTYPE}\n${serialise(root)}`;
}
