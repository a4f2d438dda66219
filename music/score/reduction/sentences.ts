import { say } from '../../pitch/chord-symbol.ts';
import { sayNote } from '../../pitch/key.ts';
import { noteOf, type NoteName } from '../../pitch/pitch.ts';
import { counted, listed, numberWord } from '../number-words.ts';
import type { Score, Ticks } from '../score.ts';
import { meterAt, placeOf, unitTicks } from '../time.ts';
import { slicesIn, type Harmony } from './harmony.ts';
import { soundingTones, type NonChordRun } from './non-chord-tones.ts';
import type { LineNote, Texture } from './texture.ts';

const PARTS: readonly (readonly [size: number, alone: string, added: string])[] = [
  [1 / 2, 'half a beat', 'a half'],
  [1 / 4, 'a quarter of a beat', 'a quarter'],
  [3 / 4, 'three quarters of a beat', 'three quarters'],
  [1 / 3, 'a third of a beat', 'a third'],
  [2 / 3, 'two thirds of a beat', 'two thirds'],
];

/** `one beat`, `half a beat`, `two and a half beats`: a length in the meter's lower figure, in words. */
export function sayBeats(score: Score, at: Ticks, length: Ticks): string {
  const beats = length / unitTicks(meterAt(score, at).unit);
  const whole = Math.floor(beats);
  if (beats === whole) return counted(whole, 'beat', 'beats');
  const part = PARTS.find(([size]) => Math.abs(beats - whole - size) < 1e-9);
  if (!part) return `${Math.round(beats * 100) / 100} beats`;
  return whole === 0 ? part[1] : `${numberWord(whole)} and ${part[2]} beats`;
}

/** `bar 3, beat 1`, `the pickup, beat 3`, `bar 2, after beat 2`. */
export function sayPlace(score: Score, at: Ticks): string {
  const { bar, beat } = placeOf(score, at);
  const where = bar === 0 ? 'the pickup' : `bar ${bar}`;
  const whole = Math.floor(beat);
  if (beat === whole) return `${where}, beat ${whole}`;
  return `${where}, ${beat - whole === 0.5 ? 'halfway through' : 'after'} beat ${whole}`;
}

function spoken(names: readonly NoteName[]): string {
  return listed(names.map(sayNote));
}

/** What a note outside its chord does, after its name: `passes from B to G`. */
function doing(run: NonChordRun): string {
  const [from, to] = [run.before, run.after].map((each) =>
    each ? sayNote(noteOf(each)) : 'silence',
  );
  switch (run.kind) {
    case 'passing':
      return `passes from ${from} to ${to}`;
    case 'neighbour':
    case 'double neighbour':
      return `is a neighbour of ${run.kind === 'neighbour' ? to : from === to ? to : `${from} and ${to}`}`;
    case 'suspension':
      return `is held over and falls to ${to}${run.figure ? ` (${run.figure})` : ''}`;
    case 'retardation':
      return `is held over and rises to ${to}${run.figure ? ` (${run.figure})` : ''}`;
    case 'anticipation':
      return 'comes before its chord';
    case 'appoggiatura':
      return `leans on ${to}`;
    case 'escape':
      return `escapes from ${from}`;
    case 'cambiata':
      return `turns from ${from} by way of ${to}`;
    case 'incomplete neighbour':
      return `is a neighbour between ${from} and ${to}`;
    case 'pedal':
      return 'stays while the chord changes';
    case 'unclassified':
      return 'belongs to no chord here';
  }
}

const NAMES: Readonly<Record<NonChordRun['kind'], string>> = {
  passing: 'passing note',
  neighbour: 'neighbour note',
  'double neighbour': 'one of two neighbour notes',
  appoggiatura: 'appoggiatura',
  escape: 'escape note',
  cambiata: 'cambiata',
  'incomplete neighbour': 'incomplete neighbour note',
  suspension: 'suspension',
  retardation: 'retardation',
  anticipation: 'anticipation',
  pedal: 'pedal note',
  unclassified: 'note that fits no textbook pattern',
};

/** `bar 2, beat 3: the A4 of S1V1 passes from B to G (passing note)`. */
export function sayNonChord(texture: Texture, run: NonChordRun): string {
  const voice = texture.score.voices.find((each) => each.id === run.voice)?.name ?? run.voice;
  return (
    `${sayPlace(texture.score, run.at)}: the ${sayNote(run.pitch)} of ${voice} ${doing(run)}` +
    ` (${NAMES[run.kind]})`
  );
}

/** Why a chord is what it is: `bar 3, beat 1: G, B and D sound together over G for two beats; A passes from B to G`. */
export function sayHarmony(
  texture: Texture,
  harmony: Harmony,
  runs: readonly NonChordRun[],
): string {
  const { score } = texture;
  const place = sayPlace(score, harmony.at);
  const length = sayBeats(score, harmony.at, harmony.end - harmony.at);
  if (harmony.tones.length === 0) return `${place}: nothing sounds for ${length}`;
  const tones = soundingTones(texture, harmony);
  const slices = slicesIn(texture, harmony.at, harmony.end);
  const names = (indexes: readonly number[]) =>
    new Set(indexes.map((index) => (texture.notes[index] as LineNote).name));
  const together = slices.some((slice) => {
    const sounding = names(slice.sounding);
    return tones.every((tone) => sounding.has(tone));
  });
  const first = slices.find((slice) => slice.bass !== null);
  const bass = first ? (texture.notes[first.bass as number] as LineNote).name : harmony.chord.root;
  const how = tones.length === 1 ? 'sounds alone' : together ? 'sound together' : 'sound in turn';
  const missing = harmony.tones.filter((tone) => !tones.includes(tone));
  const parts = [
    `${place}: ${spoken(tones)} ${how} over ${sayNote(bass)} for ${length}`,
    ...(missing.length > 0 ? [`${spoken(missing)} of ${say(harmony.chord)} left out`] : []),
    ...runs
      .filter((run) => run.at < harmony.end && run.end > harmony.at)
      .map((run) => `${sayNote(noteOf(run.pitch))} ${doing(run)}`)
      .filter((text, index, all) => all.indexOf(text) === index),
  ];
  return parts.join('; ');
}
