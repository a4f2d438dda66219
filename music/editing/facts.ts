import { parsePitch } from '../pitch/pitch.ts';
import { success, type Result } from '../result.ts';
import { read } from '../score/check-score.ts';
import type { Score, SongFacts } from '../score/score.ts';
import type { Edit } from './edit.ts';
import { refused } from './refusal.ts';
import { tidied, tidiedLines } from './typed-text.ts';

type Of<K extends Edit['do']> = Extract<Edit, { readonly do: K }>;

function facts(score: Score, { facts: changed }: Of<'facts'>): Result<Score> {
  const given = Object.entries(changed).filter(([, value]) => value !== undefined);
  const all: SongFacts = { ...score.facts, ...Object.fromEntries(given.map(tidiedFact)) };
  if (all.title.trim() === '') return refused('A song needs a title.');
  const result = read({ ...score, facts: all });
  return result.ok
    ? success({ ...score, facts: result.value.facts })
    : refused('One of these facts is too long to keep.');
}

/** Lines become one line, credits and the like may have several; what a source said beside stays as it is. */
function tidiedFact([name, value]: [string, SongFacts[keyof SongFacts] | undefined]): [
  string,
  unknown,
] {
  if (typeof value === 'string')
    return [name, name === 'title' ? tidied(value) : tidiedLines(value)];
  const isList = Array.isArray(value) && name !== 'other';
  return [name, isList ? value.map((each) => tidiedLines(String(each))) : value];
}

/** The lowest and highest note of a piano, as for the ranges of singers. */
const [LOWEST, HIGHEST] = [21, 108];

function compass(score: Score, { compass: given }: Of<'compass'>): Result<Score> {
  const { compass: _before, ...bare } = score;
  if (given === null) return success(bare);
  const { low, high, mostly } = given;
  const names = [low, high, ...(mostly ? [mostly.low, mostly.high] : [])];
  const wrong = names.find((name) => parsePitch(name) === null);
  if (wrong !== undefined) {
    return refused(`${JSON.stringify(wrong)} is not a note with its octave, such as A3 or Bb4.`);
  }
  const midi = names.map((name) => parsePitch(name)?.midi ?? 0);
  const [bottom = 0, top = 0, from = 0, to = 0] = midi;
  if (midi.some((each) => each < LOWEST || each > HIGHEST)) {
    return refused('That lies beyond the piano; nobody is asked to sing it.');
  }
  if (bottom > top) return refused(`The lowest note, ${low}, lies above the highest, ${high}.`); // prettier-ignore
  if (mostly) {
    if (from > to) return refused(`Mostly from ${mostly.low} to ${mostly.high} is upside down.`); // prettier-ignore
    if (from < bottom || to > top) {
      return refused(`Where it mostly lies, ${mostly.low} to ${mostly.high}, goes beyond ${low} to ${high}.`); // prettier-ignore
    }
  }
  return success({
    ...bare,
    compass: { low, high, mostly: mostly && { low: mostly.low, high: mostly.high } },
  });
}

export const FACTS = { facts, compass };
