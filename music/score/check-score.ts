import { write as writeChord } from '../pitch/chord-symbol.ts';
import { midiOf } from '../pitch/pitch.ts';
import { failure, success, type Problem, type Result } from '../result.ts';
import { playedBars, SCORE_LIMITS } from './limits.ts';
import type { Score, Ticks, Voice } from './score.ts';
import { scoreShape } from './score-shape.ts';
import { Misshapen } from './shape.ts';
import { barLength, endOf } from './time.ts';

export { SCORE_LIMITS } from './limits.ts';

/** What is broken everywhere is not listed without end. */
const MOST_SAID = 20;

/**
 * The score that some JSON is, made anew with nothing in it that a score has not; or what is wrong with it. It never
 * throws, whatever comes.
 */
export function read(value: unknown): Result<Score> {
  let score: Score;
  try {
    score = scoreShape(value, 'score');
  } catch (problem) {
    if (!(problem instanceof Misshapen)) throw problem;
    return failure({ code: 'broken-score', message: `${problem.path} ${problem.message}.` });
  }
  const problems = coherence(score);
  return problems.length > 0 ? { ok: false, problems } : success(score);
}

/** Everything that `score.ts` promises of a score and this one does not keep; empty: it holds together. */
export function check(score: Score): Problem[] {
  const result = read(score);
  return result.ok ? [] : [...result.problems];
}

/** How the parts of a score hang together, once each has its shape. */
function coherence(score: Score): Problem[] {
  const problems: Problem[] = [];
  const say = (message: string): void => {
    if (problems.length < MOST_SAID) problems.push({ code: 'broken-score', message });
  };
  checkBars(score, say);
  const end = endOf(score);
  for (const [what, list] of [
    ['keys', score.keys],
    ['meters', score.meters],
  ] as const) {
    if (list[0]?.at !== 0) say(`The ${what} do not begin at the start.`);
    if (!inOrder(list)) say(`The ${what} are not in order.`);
    if (list.some(({ at }) => at >= end)) say(`The ${what} go on after the end.`);
  }
  const { tempoChanges = [] } = score;
  if (tempoChanges[0]?.at === 0) say('A change of tempo stands at the start.');
  if (!inOrder(tempoChanges)) say('The changes of tempo are not in order.');
  if (tempoChanges.some(({ at }) => at >= end)) say('The changes of tempo go on after the end.');
  for (const { meter } of score.meters) {
    const { unit } = meter;
    if (!Number.isInteger(Math.log2(unit))) say(`No note value is called ${unit}.`);
    else if (!Number.isInteger(barLength(meter) ?? 0)) say('A meter does not come out even.');
  }
  checkVoices(score, end, say);
  checkChords(score, end, say);
  checkSections(score, end, say);
  checkCompass(score, say);
  return problems;
}

type Say = (message: string) => void;

function inOrder(list: readonly { readonly at: Ticks }[]): boolean {
  return list.every(({ at }, i) => i === 0 || at > (list[i - 1]?.at ?? 0));
}

function checkBars({ bars }: Score, say: Say): void {
  let at = 0;
  for (const [i, bar] of bars.entries()) {
    if (bar.at !== at) say(`Bar ${bar.number} does not begin where the one before ends.`);
    if (
      i > 0 &&
      bar.copyOf === undefined &&
      bar.number < (bars[i - 1]?.number ?? 0) &&
      bars[i - 1]?.copyOf === undefined
    ) {
      say(`Bar ${bar.number} comes after bar ${bars[i - 1]?.number ?? 0}.`);
    }
    at = bar.at + bar.length;
  }
}

function checkVoices(score: Score, end: Ticks, say: Say): void {
  const ids = new Set(score.voices.map(({ id }) => id));
  if (ids.size < score.voices.length) say('Two voices have the same name inside the file.');
  if (!ids.has(score.melody)) say('No voice carries the tune.');
  for (const voice of score.voices) checkNotes(score, voice, end, say);
}

function checkNotes(score: Score, voice: Voice, end: Ticks, say: Say): void {
  let at = 0;
  for (const note of voice.notes) {
    if (note.at !== at) {
      say(`Voice ${voice.name} has a gap or an overlap between its notes.`);
      return;
    }
    at = note.at + note.length;
    const midi = note.pitches.map(midiOf);
    if (midi.some((each, i) => each < (midi[i - 1] ?? -Infinity))) {
      say(`A chord of voice ${voice.name} is not low to high.`);
    }
    if ((note.syllables?.length ?? 0) > score.verses.length) {
      say(`Voice ${voice.name} has words of a verse that the song has not.`);
      return;
    }
    if (note.fingers && note.fingers.length > note.pitches.length) {
      say(`A note of voice ${voice.name} has more fingers than pitches.`);
    }
  }
  if (at !== end) say(`Voice ${voice.name} does not end with the song.`);
}

function checkChords({ chords }: Score, end: Ticks, say: Say): void {
  let before = 0;
  for (const { at, length, chord, guess } of chords) {
    if (at < before) {
      say('The chords overlap, or are not in order.');
      return;
    }
    before = at + length;
    for (const each of [chord, ...(guess?.others ?? [])]) {
      if (each && !isWritable(each)) say('A chord cannot be written as a symbol.');
    }
  }
  if (before > end) say('The chords go on after the end.');
}

function isWritable(chord: Parameters<typeof writeChord>[0]): boolean {
  try {
    return writeChord(chord) !== '';
  } catch {
    return false;
  }
}

function checkSections(score: Score, end: Ticks, say: Say): void {
  let at = 0;
  const ids = new Set<string>();
  for (const { id, from, to, name, loop, kind } of score.sections) {
    if (from !== at || to <= from) say(`Section ${name} does not begin where the one before ends.`);
    if (ids.has(id)) say(`Two sections have the id ${id}.`);
    if (loop && kind !== 'vamp') say(`Section ${name} is left on a cue and is no vamp.`);
    ids.add(id);
    at = to;
  }
  if (at !== end) say('The sections do not end with the song.');
  if (score.form.some(({ section }) => !ids.has(section))) {
    say('The order names a section that the song has not.');
  } else if (playedBars(score) > SCORE_LIMITS.playedBars) {
    say(`With its passes and repeats the song is more than ${SCORE_LIMITS.playedBars} bars long.`);
  }
  let before = 0;
  for (const { from, to } of score.introduction) {
    if (from < before || to <= from || to > end) say('The introduction is no stretch of the song.');
    before = to;
  }
}

function checkCompass({ compass }: Score, say: Say): void {
  if (!compass) return;
  const { low, high, mostly } = compass;
  const notes = [low, ...(mostly ? [mostly.low, mostly.high] : []), high].map(midiOf);
  if (notes.some((midi, i) => midi < (notes[i - 1] ?? -Infinity))) {
    say('The compass of the tune is upside down.');
  }
}
