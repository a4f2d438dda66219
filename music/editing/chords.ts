import { read as readChord } from '../pitch/chord-symbol.ts';
import type { Chord } from '../pitch/chord.ts';
import { success, type Result } from '../result.ts';
import { cut } from '../score/cuts.ts';
import type { ChordAt, Score, Ticks } from '../score/score.ts';
import { endOf } from '../score/time.ts';
import type { ChordEdit } from './edit.ts';
import { copyUntimed } from './untimed-chords.ts';
import { isWhole, missingPlace, refused, refusedAt } from './refusal.ts';

type Of<K extends ChordEdit['do']> = Extract<ChordEdit, { readonly do: K }>;

/** How far a chord can last: to the end, in a song without time to the end of its section. */
function reach(score: Score, at: Ticks): Ticks {
  const section = score.sections.find(({ from, to }) => from <= at && at < to);
  return score.untimed && section ? section.to : endOf(score);
}

function write(score: Score, { at, symbol, until }: Of<'chord'>): Result<Score> {
  const missing = missingPlace(score, at);
  if (missing) return missing;
  if (until !== undefined && !isWhole(until, at + 1))
    return refusedAt(score, at, 'a chord ends after it begins.');
  const read = symbol === null ? success<Chord | null>(null) : readChord(symbol);
  if (!read.ok) return refusedAt(score, at, read.problems[0]?.message ?? 'that is no chord.');
  const chord = read.value?.kind === 'none' ? null : read.value;
  const before = score.chords.filter((each) => each.at < at);
  const after = score.chords.filter((each) => each.at > at);
  const length = Math.min(after[0]?.at ?? Infinity, until ?? Infinity, reach(score, at)) - at;
  const cutBefore = before.map((each) => ({
    ...each,
    length: Math.min(each.length, at - each.at),
  }));
  return success(
    { ...score, chords: [...cutBefore, { at, length, chord }, ...after] },
    read.warnings,
  );
}

function remove(score: Score, { at }: Of<'remove chord'>): Result<Score> {
  const missing = missingPlace(score, at);
  if (missing) return missing;
  const index = score.chords.findIndex((each) => each.at === at);
  const gone = score.chords[index];
  if (!gone) return refusedAt(score, at, 'no chord begins there.');
  const end = gone.at + gone.length;
  const chords = score.chords.flatMap((each, i): ChordAt[] => {
    if (i === index) return [];
    const isBefore = i === index - 1 && each.at + each.length === at;
    if (!isBefore) return [each];
    return [{ ...each, length: Math.min(end, reach(score, each.at)) - each.at }];
  });
  return success({ ...score, chords });
}

/** What was found in the voices there and is taken over is what a person says from now on. */
function copy(score: Score, { from, to }: Of<'chords as in'>): Result<Score> {
  const [source, target] = [from, to].map((id) => score.sections.find((each) => each.id === id));
  if (!source || !target) return refused('The song has no such section.');
  if (source === target) return refused(`${target.name} has its own chords already.`);
  if (score.untimed) return copyUntimed(score, source, target);
  const length = Math.min(source.to - source.from, target.to - target.from);
  const span = { from: source.from, to: source.from + length };
  const copied = cut(score.chords, span, target.from - source.from).map(
    ({ at, length: long, chord }): ChordAt => ({ at, length: long, chord }),
  );
  const end = target.from + length;
  const before = cut(score.chords, { from: 0, to: target.from }, 0);
  const after = cut(score.chords, { from: end, to: endOf(score) }, 0);
  return success({ ...score, chords: [...before, ...copied, ...after] });
}

export const CHORDS = { chord: write, 'remove chord': remove, 'chords as in': copy };
