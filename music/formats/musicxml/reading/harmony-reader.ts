import { chordTones, intervalOf } from '../../../pitch/chord-degrees.ts';
import { read as readSymbol } from '../../../pitch/chord-symbol.ts';
import { CHORD_KINDS, type Chord, type ChordDegree, type ChordKind } from '../../../pitch/chord.ts';
import { transposeNote, type Interval } from '../../../pitch/interval.ts';
import { accidentalsOf, isNoteName, type NoteName } from '../../../pitch/pitch.ts';
import { quoted, type Report } from '../../report.ts';
import type { Where } from './note-reader.ts';
import { child, childrenOf, numberIn, numberOf, textOf, type XmlNode } from './tree.ts';

function noteIn(node: XmlNode | undefined, prefix: 'root' | 'bass'): NoteName | null {
  if (!node) return null;
  const alter = Math.round(numberIn(textOf(node, `${prefix}-alter`) || '0') ?? NaN);
  if (!(Math.abs(alter) <= 3)) return null;
  const name = textOf(node, `${prefix}-step`) + accidentalsOf(alter);
  return isNoteName(name) ? name : null;
}

function degreesOf(node: XmlNode): ChordDegree[] {
  return childrenOf(node, 'degree').flatMap((degree): ChordDegree[] => {
    const value = numberOf(degree, 'degree-value');
    const alter = Math.round(numberIn(textOf(degree, 'degree-alter') || '0') ?? 0);
    const type = textOf(degree, 'degree-type');
    const known = type === 'add' || type === 'alter' || type === 'subtract';
    const fits = value !== null && Number.isInteger(value) && value >= 1 && value <= 13;
    return known && fits && Math.abs(alter) <= 3 ? [{ type, value, alter }] : [];
  });
}

/** The note in the bass of an inversion: 1 is the third, 2 the fifth. */
function inverted(chord: Chord, inversion: number): NoteName | null {
  const tone = chordTones(chord)[inversion];
  return tone ? transposeNote(chord.root, intervalOf(tone)) : null;
}

/** `<harmony>` as it sounds; undefined where it is no chord symbol (told). */
export function readHarmony(
  node: XmlNode,
  transpose: Interval,
  where: Where,
  report: Report,
): Chord | null | undefined {
  const kindNode = child(node, 'kind');
  const kind = kindNode?.text.trim() ?? '';
  const at = { line: node.line };
  if (kind === 'none') return null;
  const written = noteIn(child(node, 'root'), 'root');
  if (!written) {
    const words = child(node, 'root')
      ? `${where()} has a chord whose root cannot be understood; it is left out.`
      : `${where()} has a chord by its degree and not by its name; it is left out.`;
    report.warn(child(node, 'root') ? 'chord-not-read' : 'chord-by-degree', words, at);
    return undefined;
  }
  if (childrenOf(node, 'root').length > 1) {
    const words = `${where()} has one chord over another; the first is kept.`;
    report.warn('chord-over-chord', words, at);
  }
  const root = transposeNote(written, transpose);
  const writtenBass = noteIn(child(node, 'bass'), 'bass');
  const bass = writtenBass && transposeNote(writtenBass, transpose);
  const known = CHORD_KINDS.includes(kind as ChordKind);
  const text = kindNode?.attributes['text'] ?? '';
  const degrees = degreesOf(node);
  if (!known || (kind === 'other' && degrees.length === 0 && text !== '')) {
    const symbol = readSymbol(`${root}${text}`);
    if (symbol.ok) return { ...symbol.value, bass: bass ?? symbol.value.bass };
    if (!known) {
      const words = `${where()} has a chord of the kind ${quoted(kind)}, which MusicXML does not know; it is left out.`;
      report.warn('chord-not-read', words, at);
      return undefined;
    }
  }
  const chord: Chord = { root, kind: kind as ChordKind, degrees, bass };
  const inversion = numberOf(node, 'inversion') ?? 0;
  return bass === null && inversion > 0 ? { ...chord, bass: inverted(chord, inversion) } : chord;
}
