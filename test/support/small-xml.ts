import { MusicXml, QUARTER, type Problem, type Score } from '#music';

/** One part of a small MusicXML file, written as its documentation writes its examples. */
export interface SmallPart {
  readonly name?: string;
  /** The measures, each the text inside `<measure>`; with its attributes where it needs others than a number. */
  readonly measures: readonly (string | readonly [attributes: string, content: string])[];
}

const measure = (given: SmallPart['measures'][number], index: number): string => {
  const [attributes, content] =
    typeof given === 'string' ? [`number="${String(index + 1)}"`, given] : given;
  return `<measure ${attributes}>${content}</measure>`;
};

/** A partwise file of some parts; `head` stands before the list of parts. */
export function smallXml(parts: readonly SmallPart[], head = ''): string {
  const list = parts.map(
    ({ name = 'Music' }, i) =>
      `<score-part id="P${String(i + 1)}"><part-name>${name}</part-name></score-part>`,
  );
  const music = parts.map(
    ({ measures }, i) => `<part id="P${String(i + 1)}">${measures.map(measure).join('')}</part>`,
  );
  return `<?xml version="1.0" encoding="UTF-8" standalone="no"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
<score-partwise version="4.0">${head}<part-list>${list.join('')}</part-list>${music.join('')}</score-partwise>`;
}

const TYPES: Readonly<Record<string, string>> = { 1: 'quarter', 2: 'half', 4: 'whole' };

/** A note: `C4` is a quarter at one division, `C4:2` two divisions, `r:4` a rest; `more` stands behind its length. */
export function note(text: string, more = ''): string {
  const match = /^(?:(r)|([A-G])(#|b)?(\d))(?::(\d+))?$/.exec(text);
  if (!match) throw new Error(`no note: ${text}`);
  const [, rest, step = '', sign, octave = '', length = '1'] = match;
  const alter = sign ? `<alter>${sign === '#' ? '1' : '-1'}</alter>` : '';
  const pitch = rest
    ? '<rest/>'
    : `<pitch><step>${step}</step>${alter}<octave>${octave}</octave></pitch>`;
  const type = TYPES[length] ? `<type>${TYPES[length]}</type>` : '';
  return `<note>${pitch}<duration>${length}</duration>${more || type}</note>`;
}

/** Attributes at the beginning: divisions of 1, C major without a mode, a meter, treble. */
export function attributes(meter = '4/4', more = '', divisions = 1): string {
  const [beats = '', unit = ''] = meter.split('/');
  return `<attributes><divisions>${String(divisions)}</divisions><key><fifths>0</fifths></key><time><beats>${beats}</beats><beat-type>${unit}</beat-type></time>${more}</attributes>`;
}

/** A file that is whole, with the codes of its warnings; throws where it is refused. */
export function readWith(input: string | Uint8Array): { score: Score; codes: string[] } {
  const read = MusicXml.read(input);
  if (!read.ok) throw new Error(read.problems.map(({ message }) => message).join('\n'));
  return { score: read.value, codes: read.warnings.map(({ code }) => code) };
}

export const readScore = (input: string | Uint8Array): Score => readWith(input).score;

/** What a file is refused for. */
export function problems(input: string | Uint8Array): readonly Problem[] {
  const read = MusicXml.read(input);
  return read.ok ? [] : read.problems;
}

/** `C4:1 r:2`: pitches and quarters. */
export const played = (score: Score, voice = 0): string =>
  (score.voices[voice]?.notes ?? [])
    .map(({ pitches, length }) => `${pitches.join('+') || 'r'}:${String(length / QUARTER)}`)
    .join(' ');

/** A bar of four quarters. */
export const FOUR = ['C4', 'D4', 'E4', 'F4'].map((each) => note(each)).join('');
