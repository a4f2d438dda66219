import { Keys, KeysOfForm, MOST_UP, NumberWords, type Key, type Score } from '#music';
import type { ArrangedPass } from '#server/contract/music.ts';

/** A key that a pass can be sung in. */
export interface PassKey {
  /** Half steps above the key that the song is in there. */
  readonly up: number;
  /** `in F`, `G, up a whole step`. */
  readonly words: string;
}

/** As it is, then what is most usual: a half step, a whole step; then further up, then down. */
const UPS = [
  0,
  ...Array.from({ length: MOST_UP }, (_, i) => i + 1),
  ...Array.from({ length: MOST_UP }, (_, i) => -1 - i),
];

/**
 * The keys that a pass can be sung in, the most usual first; none where a song has no chords and no notes that a key
 * could move.
 * @param key that the song is done in; null: not known
 */
export function passKeys(score: Score, key: Key | null, pass: ArrangedPass): PassKey[] {
  if (!key || (score.untimed && score.chords.length === 0)) return [];
  const { up: _, ...plain } = pass;
  const known = score.sections.some(({ id }) => id === pass.section);
  const there = known ? KeysOfForm.keyAtStart({ key, form: [plain] }, score) : key;
  return UPS.map((up) => {
    const name = Keys.sayTonic(KeysOfForm.raisedKey(there, up));
    return { up, words: up === 0 ? `in ${name}` : `${name}, ${KeysOfForm.sayUp(up)}` };
  });
}

/** A pass so many half steps above its key. */
export function raisedPass(pass: ArrangedPass, up: number): ArrangedPass {
  const { up: _, ...rest } = pass;
  return up === 0 ? rest : { ...rest, up };
}

/** A pass that everybody sings to the tune, or in parts. */
export function inUnison(pass: ArrangedPass, unison: boolean): ArrangedPass {
  const { unison: _, ...rest } = pass;
  return unison ? { ...rest, unison } : rest;
}

/** `Verse 3 and Refrain up a whole step (G)`: passes that follow one another in one key are said together. */
export function sayRaised(
  passes: readonly {
    readonly name: string;
    readonly up: number;
    readonly keys: readonly PassKey[];
  }[],
): string {
  const said: string[] = [];
  let names: string[] = [];
  passes.forEach(({ name, up, keys }, i) => {
    if (up === 0) return;
    const words = keys.find((each) => each.up === up)?.words ?? '';
    names.push(name);
    const next = passes[i + 1];
    const goesOn = next?.up === up && next.keys.find((each) => each.up === up)?.words === words;
    if (goesOn) return;
    const [key = ''] = words.split(',');
    said.push(`${NumberWords.listed(names)} ${KeysOfForm.sayUp(up)}${key && ` (${key})`}`);
    names = [];
  });
  return said.join('; ');
}
