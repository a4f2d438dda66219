import { expect } from 'vitest';
import {
  PartFiles,
  Parts,
  Reduction,
  Time,
  type Part,
  type Player,
  type Range,
  type Score,
  type Team,
} from '#music';
import { hymn } from './hymn.ts';
import { heardTracks, type HeardNote } from './midi-heard.ts';

/*
 * Ranges: a woman, a man, a bass and a child as they come in small teams (ours); Amazing Grace's D4–D5 is sung by men an
 * octave lower (common practice).
 */

export const WOMAN: Range = { low: 'A3', high: 'C5' };
export const MAN: Range = { low: 'A2', high: 'D4' };
export const SINGERS = {
  alto: { low: 'G3', high: 'C5' },
  tenor: { low: 'B2', high: 'D4' },
  bass: { low: 'E2', high: 'A3' },
  child: { low: 'C4', high: 'D5' },
} as const satisfies Record<string, Range>;
export type Who = keyof typeof SINGERS;

/** The hymn as a song book has it: its tune, and its chords as if somebody had written them. */
export function stripped(file: string): Score {
  const score = hymn(file);
  const chords = Reduction.chords(score, { density: 'half bar' }).chords.map(
    ({ guess: _guess, ...chord }) => chord,
  );
  const melody = Time.melodyOf(score);
  const notes = melody.notes.map((note) => ({ ...note, pitches: note.pitches.slice(-1) }));
  return { ...score, chords, voices: [{ ...melody, notes }] };
}

export interface Asked {
  readonly player?: Partial<Player>;
  readonly team?: Partial<Team>;
  readonly form?: (score: Score) => Score['form'];
}

export function partOf(score: Score, voice: Range, { player, team, form }: Asked = {}): Part {
  const key = Time.keyAt(score, 0).key;
  const arrangement = { key, tempo: null, density: 'bar', form: form?.(score) ?? null } as const;
  const built = Parts.build(
    score,
    arrangement,
    {
      id: 'p',
      name: 'Joel',
      role: 'harmony voice',
      level: 'beginner',
      reach: 12,
      voice,
      ...player,
    },
    { roles: ['lead voice', 'harmony voice'], lead: 'Ada', leadVoice: WOMAN, ...team },
  );
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  expect(built.warnings).toEqual([]);
  return built.value;
}

/** What midi-file hears of a part: the line and the tune beside it. */
export function heard(part: Part, passes: 'once' | 'form' = 'once') {
  const tracks = heardTracks(PartFiles.midi(part, { passes }));
  const notesOf = (name: string): readonly HeardNote[] =>
    tracks.find((track) => track.name === name)?.notes ?? [];
  return { line: notesOf('Second voice'), tune: notesOf('Tune') };
}

export const noteAt = (notes: readonly HeardNote[], moment: number): HeardNote | undefined =>
  notes.find((note) => note.at <= moment && moment < note.at + note.length);

/** Each moment at which the line or the tune begins a note, with both as they sound. */
export function moments({ line, tune }: ReturnType<typeof heard>) {
  const starts = [...new Set([...line, ...tune].map((note) => note.at))].sort((a, b) => a - b);
  return starts.flatMap((moment) => {
    const [own, other] = [noteAt(line, moment), noteAt(tune, moment)];
    return own && other ? [{ moment, own: own.midi, tune: other.midi }] : [];
  });
}
