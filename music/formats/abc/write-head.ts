import { noteAtFifths, signatureOf } from '../../pitch/key.ts';
import { find } from '../../score/key-finding.ts';
import type { Score, Tempo, Voice } from '../../score/score.ts';
import { tuneIn } from './facts.ts';
import { WHOLE, writeKeyField, writeMeter } from './fields.ts';
import { sectionsOf, usualForm } from '../../score/sections.ts';
import { escaped } from './text.ts';

/** A fraction in lowest terms. */
export function reduced(over: number, under: number): [over: number, under: number] {
  let a = over;
  let b = under;
  while (b > 0) [a, b] = [b, a % b];
  return [over / a, under / a];
}

/** The lines from `X:` to `K:`. */
export function headLines(score: Score): string[] {
  const { facts, voices } = score;
  const lines = ['X:1'];
  for (const title of [facts.title, ...facts.subtitles]) lines.push(`T:${escaped(title)}`);
  for (const credit of facts.credits) lines.push(`C:${escaped(credit)}`);
  if (facts.rights !== null) lines.push(`C:copyright: ${escaped(facts.rights)}`);
  for (const source of facts.source?.split('\n') ?? []) lines.push(`S:${escaped(source)}`);
  if (facts.hymnMeter !== null) {
    const figures = /^\d+(\.\d+)*$/.test(facts.hymnMeter);
    lines.push(`%OHMETRICAL ${figures ? facts.hymnMeter.replaceAll('.', ' ') : facts.hymnMeter}`);
  }
  for (const [name, text] of facts.other) lines.push(otherLine(name, text));
  if (tuneIn(facts.credits) !== facts.tune) {
    lines.push(`%%partbook-tune ${escaped(facts.tune ?? '')}`);
  }
  if (score.untimed) lines.push('%%partbook-untimed');
  lines.push(...formLines(score));
  lines.push(`M:${writeMeter(score.meters[0]?.meter ?? { beats: null, unit: 4 })}`, 'L:1/4');
  if (score.tempo) lines.push(`Q:${writeTempo(score.tempo)}`);
  if (voices.length > 1 || voices.some((voice) => voice.group === 'Keyboard')) {
    lines.push(`%%staves ${staves(voices)}`);
  }
  lines.push(...groupLines(voices));
  if (score.melody !== voices[0]?.id) lines.push(`%%partbook-melody ${score.melody}`);
  for (const voice of voices) lines.push(voiceLine(voice));
  lines.push(`K:${keyText(score, 0)}`);
  return lines;
}

function otherLine(name: string, text: string): string {
  if (/^OH[A-Z]+$/.test(name) && name !== 'OHMETRICAL') return `%${name} ${escaped(text)}`;
  if (/^[ABDFGHINORZr]$/.test(name)) return `${name}:${escaped(text)}`;
  return `%%partbook-fact "${escaped(name).replaceAll('"', '\\u0022')}" ${escaped(text)}`;
}

/** `3/8=60`. */
export function writeTempo({ beat, perMinute }: Tempo): string {
  return `${reduced(beat, WHOLE).join('/')}=${String(perMinute)}`;
}

/** `(S1V1 S1V2) | (S2V1 S2V2)`; staves of one keyboard stand in braces. */
function staves(voices: readonly Voice[]): string {
  const parts: string[] = [];
  for (const [i, voice] of voices.entries()) {
    const sameStaff = (other: Voice | undefined): boolean => other?.staff === voice.staff;
    const sameBrace = (other: Voice | undefined): boolean => other?.group === 'Keyboard';
    const before = voices[i - 1];
    const after = voices[i + 1];
    if (i > 0 && !sameStaff(before)) parts.push('|');
    const shared = sameStaff(before) || sameStaff(after);
    const braced = voice.group === 'Keyboard';
    let text = voice.id;
    if (shared && !sameStaff(before)) text = `(${text}`;
    if (shared && !sameStaff(after)) text = `${text})`;
    if (braced && !sameBrace(before)) text = `{${text}`;
    if (braced && !sameBrace(after)) text = `${text}}`;
    parts.push(text);
  }
  return parts.join(' ');
}

function groupLines(voices: readonly Voice[]): string[] {
  const groups = new Map<string, string[]>();
  for (const { id, group } of voices) {
    if (group === 'Hymn' || group === 'Keyboard') continue;
    groups.set(group, [...(groups.get(group) ?? []), id]);
  }
  return [...groups].map(([group, ids]) => {
    return `%%partbook-group ${escaped(group).replaceAll(' ', '\\u0020')} ${ids.join(' ')}`;
  });
}

function voiceLine({ id, name, clef }: Voice): string {
  const named = name === id ? '' : ` name="${escaped(name).replaceAll('"', '\\u0022')}"`;
  return `V:${id} clef=${clef}${named}`;
}

/**
 * The key from the n-th of `score.keys`: the bare signature where finding the key again gives the same answer, else the
 * key by its name.
 */
export function keyText(score: Score, index: number): string {
  const entry = score.keys[index];
  if (!entry) return 'C';
  const { at, signature, key, sure, reason, others } = entry;
  const found = find(signature, score.voices, at, score.keys[index + 1]?.at ?? Infinity);
  const again = JSON.stringify(found) === JSON.stringify({ key, sure, reason, others });
  const nameable = Math.abs(signatureOf(key)) <= 7;
  return again || !sure || !nameable ? noteAtFifths(signature) : writeKeyField(key, signature);
}

function formLines(score: Score): string[] {
  const starts = score.sections.map(({ from, name }) => ({ at: from, name }));
  const read = sectionsOf(starts, 0);
  const ids = new Map(score.sections.map((section, i) => [section.id, read[i]?.id ?? '']));
  const form = score.form.map(({ section, verse }) => ({
    section: ids.get(section) ?? section,
    verse,
  }));
  if (JSON.stringify(form) === JSON.stringify(usualForm(read, score.verses))) return [];
  const passes = form.map(({ section, verse }) => {
    return verse === null ? section : `${section}:${String(verse)}`;
  });
  return [`%%partbook-form ${passes.join(' ')}`];
}
