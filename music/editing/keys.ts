import { MODES, sayKey, signatureOf, usualSpelling, type Key } from '../pitch/key.ts';
import { isNoteName, midiOf } from '../pitch/pitch.ts';
import { success, type Result } from '../result.ts';
import { numberWord } from '../score/number-words.ts';
import { decided } from '../score/key-finding.ts';
import type { KeyAt, Score } from '../score/score.ts';
import { endOf, inForce } from '../score/time.ts';
import { fifthsOfInterval, interval, stretch } from '../score/transpose.ts';
import type { BarEdit } from './edit.ts';
import { capital, sayBar } from './place-words.ts';
import { missingBar, refused } from './refusal.ts';

type Of<K extends BarEdit['do']> = Extract<BarEdit, { readonly do: K }>;

const MOST_IN_SIGNATURE = 7;

const isKey = ({ tonic, mode }: Key): boolean => isNoteName(tonic) && MODES.includes(mode);

/** Null: the key can be printed. */
function tooManySigns(key: Key, signature: number): string | null {
  if (Math.abs(signature) <= MOST_IN_SIGNATURE) return null;
  const sign = signature > 0 ? 'sharps' : 'flats';
  return `${capital(sayKey(key))} has ${numberWord(Math.abs(signature))} ${sign}; say ${sayKey(usualSpelling(key))}.`;
}

function set(score: Score, { bar, key }: Of<'key'>): Result<Score> {
  const missing = missingBar(score, bar);
  if (missing) return missing;
  const here = score.bars[bar];
  const at = here?.at ?? 0;
  const others = score.keys.filter((each) => each.at !== at);
  if (key === null) {
    if (at === 0) return refused('A song has a key from its start on.');
    if (others.length === score.keys.length) {
      return refused(`No key changes at ${here ? sayBar(score, here) : 'that bar'}.`);
    }
    return success({ ...score, keys: others });
  }
  if (!isKey(key)) return refused('That is no key.');
  const signature = signatureOf(key);
  const signs = tooManySigns(key, signature);
  if (signs) return refused(signs);
  const { tonic, mode } = key;
  const entry: KeyAt = { at, signature, ...decided({ tonic, mode }) };
  return success({ ...score, keys: [...others, entry].sort((a, b) => a.at - b.at) });
}

function moveTo(score: Score, { bar, key }: Of<'move to key'>): Result<Score> {
  const missing = missingBar(score, bar);
  if (missing) return missing;
  if (!isKey(key)) return refused('That is no key.');
  const here = score.bars[bar];
  const from = here?.at ?? 0;
  const now = inForce(score.keys, from);
  if (now.key.mode !== key.mode) {
    const place = capital(here ? sayBar(score, here) : 'it');
    return refused(`${place} is in ${sayKey(now.key)}; it can be moved to another ${now.key.mode} key.`); // prettier-ignore
  }
  const to = score.keys.find(({ at }) => at > from)?.at ?? endOf(score);
  const distance = interval(now.key, key);
  const signature = now.signature + fifthsOfInterval(distance);
  const signs = tooManySigns(key, signatureOf(key)) ?? tooManySigns(key, signature);
  if (signs) return refused(signs);
  const moved = stretch(score, { from, to }, distance);
  const midi = moved.voices.flatMap(({ notes }) =>
    notes.flatMap(({ pitches, grace }) => [...pitches, ...(grace ?? [])].map(midiOf)),
  );
  if (midi.some((each) => each < 0 || each > 127)) {
    return refused(`In ${sayKey(key)} notes would lie beyond every instrument.`);
  }
  return success(moved);
}

export const KEYS = { key: set, 'move to key': moveTo };
