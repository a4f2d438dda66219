import { requirePitch, type PitchName } from '../../pitch/pitch.ts';
import type { Ticks, Verse } from '../../score/score.ts';
import type { Piece, Word } from './pieces.ts';
import { fingersAt } from './fingers.ts';
import { jumpOfSign } from './jumps.ts';
import { SOFT } from '../soft.ts';
import { SIGNS } from './signs.ts';
import { el, text, type Xml } from './xml.ts';

/** What all notes of a voice have in common, and what is open while it is written. */
export interface VoiceContext {
  readonly voice: number;
  /** Number of the staff in its part; null where the part has one. */
  readonly staff: number | null;
  /** Where two voices share a staff. */
  readonly stem: 'up' | 'down' | null;
  /** The verses to print, with their place in `Note.syllables`. */
  readonly verses: readonly {
    readonly verse: Verse;
    readonly index: number;
    readonly line: number;
  }[];
  readonly fingers: boolean;
  /** The left hand's figures stand below its staff. */
  readonly fingersBelow: boolean;
  /** Lowest slur number of the voice; open slurs count up from it. */
  readonly slurs: { readonly from: number; open: number };
  readonly perDivision: number;
  /** Begins the ids of its notes, where each is to be found in the drawing: `at-0`; null: none are written. */
  readonly ids: string | null;
  /**
   * Begins the ids of notes that only go on with the one before, so that a reader can join them again; null: none are
   * written, and ways through the song (segno, fine …) are signs of their notes.
   */
  readonly held: string | null;
  /**
   * Where an unseen note lies that holds the words under a rest, as the engraver leaves out those of rests themselves;
   * null: it is a file, whose rests hold their own.
   */
  readonly restWords: PitchName | null;
  /** Verses whose label is already printed. */
  readonly labelled: Set<number>;
}

function pitchXml(name: PitchName): Xml {
  const pitch = requirePitch(name);
  return el(
    'pitch',
    {},
    text('step', pitch.letter),
    pitch.alter !== 0 && text('alter', pitch.alter),
    text('octave', pitch.octave),
  );
}

function graceNotes(
  piece: Piece,
  signs: ReadonlyMap<PitchName, string>,
  context: VoiceContext,
): Xml[] {
  if (!piece.first) return [];
  return (piece.note.grace ?? []).map((name) =>
    el(
      'note',
      {},
      el('grace'),
      pitchXml(name),
      text('voice', context.voice),
      text('type', 'eighth'),
      signs.has(name) && text('accidental', signs.get(name) ?? ''),
      context.stem && text('stem', context.stem),
      context.staff !== null && text('staff', context.staff),
    ),
  );
}

function slurs(piece: Piece, context: VoiceContext): Xml[] {
  const numberOf = (depth: number) => 1 + ((context.slurs.from + depth) % 16);
  const found: Xml[] = [];
  for (let k = 0; piece.last && k < (piece.note.slurEnds ?? 0) && context.slurs.open > 0; k++) {
    context.slurs.open--;
    found.push(el('slur', { type: 'stop', number: numberOf(context.slurs.open) }));
  }
  for (let k = 0; piece.first && k < (piece.note.slurStarts ?? 0); k++) {
    found.push(el('slur', { type: 'start', number: numberOf(context.slurs.open) }));
    context.slurs.open++;
  }
  return found;
}

function notations(
  piece: Piece,
  name: PitchName | null,
  order: number,
  context: VoiceContext,
): Xml | null {
  const note = piece.note;
  const isWritten = context.fingers && piece.first;
  const place = { stacked: context.held === null, below: context.fingersBelow };
  const fingers = isWritten ? fingersAt(note, order, place) : [];
  const leads = order === 0;
  // A breath comes after the note, every other sign with its beginning.
  const signs = (leads ? (note.signs ?? []) : []).filter(
    (sign) =>
      (sign === 'breath' ? piece.last : piece.first) &&
      (context.held === null || !jumpOfSign(sign)),
  );
  const children: (Xml | false)[] = [
    name !== null && piece.tiedFrom.includes(name) && el('tied', { type: 'stop' }),
    name !== null && piece.tiedTo.includes(name) && el('tied', { type: 'start' }),
    ...(leads ? slurs(piece, context) : []),
    ...(leads && piece.tuplet
      ? piece.tuplet.split(' ').map((type) => el('tuplet', { type, number: 1 }))
      : []),
    ...signs.flatMap((sign) => {
      const known = SIGNS[sign];
      return known
        ? [el(known[0], {}, el(known[1]))]
        : [text('other-notation', sign, { type: 'single' })];
    }),
    fingers.length > 0 &&
      el(
        'technical',
        {},
        ...fingers.map((finger) =>
          text('fingering', finger, { placement: context.fingersBelow ? 'below' : 'above' }),
        ),
      ),
    leads &&
      piece.last &&
      note.fermata === true &&
      el('fermata', { type: context.stem === 'down' ? 'inverted' : 'upright' }),
  ];
  const filled = children.filter((child): child is Xml => child !== false);
  return filled.length > 0 ? el('notations', {}, filled) : null;
}

function lyric(word: Word, line: number, label: string | null): Xml {
  return el(
    'lyric',
    { number: line },
    text('syllabic', word.syllabic),
    text('text', label ? `${label}\u00a0${word.text}` : word.text),
    word.extend && el('extend'),
  );
}

function lyrics(piece: Piece, context: VoiceContext): Xml[] {
  return context.verses.flatMap(({ verse, index, line }) => {
    const word = piece.words[index];
    if (!word) return [];
    const labelled = context.labelled.has(line) || context.verses.length < 2 || verse.label === '';
    context.labelled.add(line);
    return [lyric(word, line, labelled ? null : verse.label)];
  });
}

/**
 * The `<note>` elements of one written note: its graces, then one for each pitch, or a rest.
 * @param starts where it begins, from the start of the score
 */
export function noteXml(
  piece: Piece,
  signs: ReadonlyMap<PitchName, string>,
  context: VoiceContext,
  starts: Ticks,
): Xml[] {
  const { note, value } = piece;
  const isRest = note.pitches.length === 0;
  const under = isRest && !piece.wholeBar && piece.words.some(Boolean) ? context.restWords : null;
  const names: (PitchName | null)[] = note.pitches.length > 0 ? [...note.pitches] : [null];
  const isHidden = note.hidden && note.pitches.length === 0;
  const isSoft = note.soft && note.pitches.length > 0;
  const shown = {
    ...(isHidden && { 'print-object': 'no' }),
    ...(isSoft && { dynamics: String(SOFT.percent) }),
  };
  const ids = context.ids ?? (piece.first ? null : context.held);
  const id = ids === null ? {} : { id: `${ids}-${starts}` };
  const main = names.map((name, order) =>
    el(
      'note',
      order === 0 ? { ...shown, ...id } : shown,
      order > 0 && el('chord'),
      name === null ? restXml(piece, under) : pitchXml(name),
      text('duration', value.length / context.perDivision),
      name !== null && piece.tiedFrom.includes(name) && el('tie', { type: 'stop' }),
      name !== null && piece.tiedTo.includes(name) && el('tie', { type: 'start' }),
      text('voice', under === null ? context.voice : context.voice + BESIDE),
      value.type !== null && text('type', value.type),
      Array.from({ length: value.dots }, () => el('dot')),
      name !== null && signs.has(name) && text('accidental', signs.get(name) ?? ''),
      value.ratio &&
        el(
          'time-modification',
          {},
          text('actual-notes', value.ratio.actual),
          text('normal-notes', value.ratio.normal),
        ),
      name !== null && context.stem && text('stem', context.stem),
      context.staff !== null && text('staff', context.staff),
      order === 0 && piece.beams.map((kind, level) => text('beam', kind, { number: level + 1 })),
      notations(piece, name, order, context),
      order === 0 && !under && lyrics(piece, context),
    ),
  );
  const words = under ? wordsUnderRest(piece, under, context) : [];
  return [...graceNotes(piece, signs, context), ...words, ...main];
}

/** @param line where it lies beside an unseen note; null: where it is alone */
function restXml({ wholeBar }: Piece, line: PitchName | null): Xml {
  if (line === null) return el('rest', wholeBar ? { measure: 'yes' } : {});
  const { letter, octave } = requirePitch(line);
  return el('rest', {}, text('display-step', letter), text('display-octave', octave));
}

/** The rest itself is in a voice beside the words, so that the engraver knows these as one line with those that follow. */
const BESIDE = 2;

/** An unseen note in the voice of the rest, before it. */
function wordsUnderRest(piece: Piece, line: PitchName, context: VoiceContext): Xml[] {
  const { value } = piece;
  const duration = text('duration', value.length / context.perDivision);
  return [
    el(
      'note',
      { 'print-object': 'no' },
      pitchXml(line),
      duration,
      text('voice', context.voice),
      value.type !== null && text('type', value.type),
      Array.from({ length: value.dots }, () => el('dot')),
      context.staff !== null && text('staff', context.staff),
      lyrics(piece, context),
    ),
    el('backup', {}, duration),
  ];
}
