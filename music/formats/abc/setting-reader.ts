import type { Meter, Tempo, Ticks } from '../../score/score.ts';
import { readKeyField, readMeter, readTempo, readUnit, type KeyField } from './fields.ts';
import { quoted, type At, type Report } from '../report.ts';

/** The values of `M:`, `L:`, `Q:` and `K:`, with whatever is to be said about them. Null: nothing to set. */
export function meterSetting(value: string, at: At, report: Report): Meter | null {
  const read = readMeter(value);
  if (!read) {
    report.problem('meter-odd', `M: ${quoted(value)} is not a meter.`, at);
    return null;
  }
  if (read.grouped) {
    report.warn('meter-grouping', `The grouping of the meter ${quoted(value)} is not kept.`, at);
  }
  return read.meter;
}

export function unitSetting(value: string, at: At, report: Report): Ticks | null {
  const unit = readUnit(value);
  if (unit === null) report.problem('unit-odd', `L: ${quoted(value)} is not a note length.`, at);
  return unit;
}

/** The tempo and what stands in quotes beside it. `first`: none was said before, so where it comes from is told. */
export function tempoSetting(
  value: string,
  unit: Ticks,
  first: boolean,
  at: At,
  report: Report,
): { tempo: Tempo | null; words: string } {
  const read = readTempo(value, unit);
  if (!read) {
    report.warn('tempo-odd', `Q: ${quoted(value)} is not a tempo and is left out.`, at);
    return { tempo: null, words: '' };
  }
  if (read.tempo && first) {
    const said = `The tempo ${quoted(value)} is what this file asks of a playing program; it need not be a hymnal's.`;
    report.warn('info-tempo', said, at);
  }
  return read;
}

export const NO_KEY: KeyField = {
  tonic: null,
  mode: null,
  signature: 0,
  odd: [],
  settings: [],
  unknown: [],
};

/** `isKey` is false where `K:` only sets a clef. */
export function keySetting(
  value: string,
  at: At,
  report: Report,
): { field: KeyField; isKey: boolean } | null {
  const field = readKeyField(value);
  if (!field) {
    report.problem('key-odd', `K: ${quoted(value)} is not a key.`, at);
    return null;
  }
  if (field.odd.length > 0) {
    const words = `The signature of K: ${quoted(value)} is an unusual one; its notes are right, the printed signature is that of the nearest key.`;
    report.warn('signature-odd', words, at);
  }
  for (const word of field.unknown.slice(0, 20)) {
    report.warn('key-word-unknown', `${quoted(word)} in K: is left out.`, at);
  }
  const isKey = field.tonic !== null || value === '' || /^(none|exp|H[Pp]|[\^_=])/.test(value);
  return { field, isKey };
}
