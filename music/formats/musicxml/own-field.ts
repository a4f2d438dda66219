import { MODES, readKey, writeKey, type Mode } from '../../pitch/key.ts';
import { parsePitch } from '../../pitch/pitch.ts';
import { SECTION_KINDS } from '../../score/sections.ts';
import type { Compass, KeyAt, Pass, Section, Span, Ticks, Verse } from '../../score/score.ts';

/**
 * What a song has and MusicXML has no element for, as JSON in a `miscellaneous-field` of this name. Other programs
 * carry it along or drop it; what no longer fits the music is not taken.
 */
export const OWN_FIELD = 'partbook';

/** A voice as the score names it, in the order in which the file has them. */
export interface OwnVoice {
  readonly id: string;
  readonly name: string;
  readonly group: string;
  readonly staff: number;
  /** Its place in `Score.voices`. */
  readonly order: number;
}

/** A key that its signature and mode do not say. `found`: what finding the key from the notes gives. */
export interface OwnKey {
  readonly at: Ticks;
  readonly found: boolean;
  readonly entry: Pick<KeyAt, 'key' | 'sure' | 'reason' | 'others'> | null;
}

export interface OwnField {
  readonly sections?: readonly Section[];
  readonly form?: readonly Pass[];
  readonly introduction?: readonly Span[];
  readonly melody?: string;
  readonly voices?: readonly OwnVoice[];
  readonly keys?: readonly OwnKey[];
  readonly verses?: readonly Verse[];
  readonly compass?: Compass;
  readonly untimed?: true;
}

/** The field as text; keys stand in words (`E minor`). */
export function writeOwnField(field: OwnField): string {
  return JSON.stringify({
    ...field,
    ...(field.keys && {
      keys: field.keys.map(({ at, found, entry }) => ({
        at,
        found,
        ...(entry && {
          key: writeKey(entry.key),
          sure: entry.sure,
          reason: entry.reason,
          others: entry.others.map(writeKey),
        }),
      })),
    }),
  });
}

type Given = Readonly<Record<string, unknown>>;

const isGiven = (value: unknown): value is Given =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isText = (value: unknown): value is string => typeof value === 'string';
const isTicks = (value: unknown): value is Ticks =>
  typeof value === 'number' && Number.isSafeInteger(value) && value >= 0;

/** Every entry as `one` reads it; undefined where there is no list or one of them is odd. */
function listOf<T>(value: unknown, one: (given: Given) => T | undefined): T[] | undefined {
  if (!Array.isArray(value) || value.length > 2000) return undefined;
  const list: T[] = [];
  for (const each of value as unknown[]) {
    const read = isGiven(each) ? one(each) : undefined;
    if (read === undefined) return undefined;
    list.push(read);
  }
  return list;
}

function readSpan({ from, to }: Given): Span | undefined {
  return isTicks(from) && isTicks(to) && from < to ? { from, to } : undefined;
}

function readSection(given: Given): Section | undefined {
  const { id, name, kind, loop, copyOf } = given;
  const span = readSpan(given);
  const known = SECTION_KINDS.find((each) => each === kind);
  if (!span || !known || !isText(id) || !isText(name)) return undefined;
  return {
    id,
    kind: known,
    name,
    ...span,
    ...(isText(copyOf) && { copyOf }),
    ...(isGiven(loop) &&
      isText(loop['cue']) && { loop: { cue: loop['cue'], amen: loop['amen'] === true } }),
  };
}

function readPass({ section, verse }: Given): Pass | undefined {
  if (!isText(section)) return undefined;
  if (verse === null) return { section, verse };
  return isTicks(verse) ? { section, verse } : undefined;
}

function readVerse({ number, label, lines }: Given): Verse | undefined {
  if (!isTicks(number) || !isText(label)) return undefined;
  if (lines === undefined) return { number, label };
  return Array.isArray(lines) && lines.every(isText) ? { number, label, lines } : undefined;
}

function readVoice({ id, name, group, staff, order }: Given): OwnVoice | undefined {
  const texts = isText(id) && isText(name) && isText(group);
  return texts && isTicks(staff) && isTicks(order) ? { id, name, group, staff, order } : undefined;
}

function keyIn(value: unknown) {
  const [tonic = '', mode] = isText(value) ? value.split(' ') : [];
  if (!/^[A-G](#{0,3}|b{0,3})$/.test(tonic) || !MODES.includes(mode as Mode)) return null;
  return readKey(isText(value) ? value : '') ?? { tonic, mode: mode as Mode };
}

function readOwnKey({ at, found, key, sure, reason, others }: Given): OwnKey | undefined {
  if (!isTicks(at)) return undefined;
  if (key === undefined) return { at, found: found === true, entry: null };
  const named = keyIn(key);
  const more = Array.isArray(others) ? others.map(keyIn) : [];
  if (!named || !isText(reason) || more.some((each) => each === null)) return undefined;
  const entry = {
    key: named,
    sure: sure === true,
    reason,
    others: more.filter((each) => each !== null),
  };
  return { at, found: false, entry };
}

function readCompass(value: unknown): Compass | undefined {
  const pitches = (of: unknown) => {
    if (!isGiven(of) || !isText(of['low']) || !isText(of['high'])) return null;
    return parsePitch(of['low']) && parsePitch(of['high'])
      ? { low: of['low'], high: of['high'] }
      : null;
  };
  const outer = pitches(value);
  if (!outer || !isGiven(value)) return undefined;
  return { ...outer, mostly: pitches(value['mostly']) };
}

/** Reads the field again; what is odd in it is left out. */
export function readOwnField(text: string): OwnField {
  let given: unknown;
  try {
    given = JSON.parse(text);
  } catch {
    return {};
  }
  if (!isGiven(given)) return {};
  const sections = listOf(given['sections'], readSection);
  const form = listOf(given['form'], readPass);
  const introduction = listOf(given['introduction'], readSpan);
  const voices = listOf(given['voices'], readVoice);
  const keys = listOf(given['keys'], readOwnKey);
  const verses = listOf(given['verses'], readVerse);
  const compass = readCompass(given['compass']);
  return {
    ...(sections && { sections }),
    ...(form && { form }),
    ...(introduction && { introduction }),
    ...(voices && { voices }),
    ...(keys && { keys }),
    ...(verses && { verses }),
    ...(compass && { compass }),
    ...(isText(given['melody']) && { melody: given['melody'] }),
    ...(given['untimed'] === true && { untimed: true as const }),
  };
}
