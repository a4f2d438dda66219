import { QUARTER, type Tempo } from '../../../score/score.ts';
import { kindOf } from '../../../score/sections.ts';
import { jumpInSound, jumpInWords } from '../jumps.ts';
import { ticksOf } from '../note-value.ts';
import { child, childrenOf, numberIn, numberOf, textOf, type XmlNode } from './tree.ts';

/** What a direction says of the moment where it stands. */
export type Said =
  | { readonly kind: 'section'; readonly text: string }
  | { readonly kind: 'above'; readonly text: string }
  | { readonly kind: 'sign'; readonly text: string }
  | { readonly kind: 'pedal'; readonly to: 'down' | 'up' | 'change' }
  | { readonly kind: 'tempo'; readonly tempo: Tempo; readonly printed: boolean };

const PEDAL: Readonly<Record<string, 'down' | 'up' | 'change'>> = {
  start: 'down',
  stop: 'up',
  change: 'change',
};

/** What a `<direction>` says, and the names of what it says that no score holds (dynamics, hairpins …). */
export function readDirection(node: XmlNode): { said: Said[]; leftOut: string[] } {
  const said: Said[] = [];
  const leftOut: string[] = [];
  let words = '';
  for (const type of childrenOf(node, 'direction-type')) {
    for (const each of type.children) {
      const { name, text, attributes } = each;
      const pedal = PEDAL[attributes['type'] ?? ''];
      if (name === 'words') words += ` ${text}`;
      else if (name === 'rehearsal') {
        if (text.trim() !== '') said.push({ kind: 'section', text });
      } else if (name === 'segno' || name === 'coda') said.push({ kind: 'sign', text: name });
      else if (name === 'metronome') {
        const tempo = readMetronome(each);
        if (tempo) said.push({ kind: 'tempo', tempo, printed: true });
        else leftOut.push(name);
      } else if (name === 'pedal' && pedal) said.push({ kind: 'pedal', to: pedal });
      else if (name !== 'pedal') leftOut.push(name);
    }
  }
  const above = readWords(words, node);
  if (above) said.push(above);
  const sound = child(node, 'sound');
  if (sound) said.push(...readSound(sound, said));
  return { said, leftOut };
}

function readWords(words: string, node: XmlNode): Said | null {
  const text = words.slice(1);
  const plain = text.replace(/\s+/g, ' ').trim();
  if (plain === '') return null;
  const jump = jumpInWords(plain);
  if (jump !== null) return { kind: 'sign', text: jump };
  // As in ABC: words that could be sung or said (Amen) name no section; nor do words about one: `verse 2: softly`.
  const names =
    !['other', 'ending'].includes(kindOf(plain)) && plain.length <= 40 && !/:\s*\S/u.test(plain);
  if (names) return { kind: 'section', text: plain };
  return node.attributes['placement'] === 'below'
    ? { kind: 'sign', text: `"_${plain}"` }
    : { kind: 'above', text: plain === text.trim() ? text.trim() : plain };
}

/** `<sound>`, beside what was said already. */
export function readSound(sound: XmlNode, said: readonly Said[] = []): Said[] {
  const found: Said[] = [];
  const jump = jumpInSound(sound.attributes);
  if (jump !== null && !said.some(({ kind }) => kind === 'sign')) {
    found.push({ kind: 'sign', text: jump });
  }
  const perMinute = numberIn(sound.attributes['tempo'] ?? '');
  if (isTempo(perMinute) && !said.some(({ kind }) => kind === 'tempo')) {
    found.push({ kind: 'tempo', tempo: { beat: QUARTER, perMinute }, printed: false });
  }
  return found;
}

/** Beats a minute that a metronome can be set to, generously (common practice: 40 to 208). */
function isTempo(perMinute: number | null): perMinute is number {
  return perMinute !== null && perMinute >= 5 && perMinute <= 1000;
}

function readMetronome(node: XmlNode): Tempo | null {
  const beat = ticksOf(textOf(node, 'beat-unit'), childrenOf(node, 'beat-unit-dot').length);
  const perMinute =
    numberOf(node, 'per-minute') ??
    numberIn(/\d+(\.\d+)?/.exec(textOf(node, 'per-minute'))?.[0] ?? '');
  return beat !== null && isTempo(perMinute) ? { beat, perMinute } : null;
}
