import { requirePitch, type NoteName, type PitchName } from '../../pitch/pitch.ts';
import type { Ticks } from '../score.ts';
import type { Harmony } from './harmony.ts';
import { motion, type LineNote, type Motion, type Texture } from './texture.ts';

/**
 * The embellishing tones of the textbooks. Definitions: Open Music Theory, "Embellishing Tones" (J. Peterson; version
 * 2) for all but two; its version 1 for the double neighbour and for the incomplete neighbour in the wide sense (a
 * step on one side, a leap on the other); the cambiata from memory (Fux's nota cambiata).
 *
 * A note between two stable ones (tones of the chords they stand in), which comes and goes
 *   passing              by step and by step onwards (also two in a row, filling a fourth)
 *   neighbour            by step and by step back
 *   double neighbour     two of them, a step on either side of the stable note
 *   appoggiatura         by leap and by step back, on the stronger moment
 *   escape               by step and by leap back, on the weaker moment
 *   cambiata             by step, on by a leap of a third, then a step back
 *   incomplete neighbour by step on one side and by leap on the other, otherwise
 *   suspension           held or repeated, a step down, on the stronger moment (4–3, 9–8, 7–6 over its bass)
 *   retardation          the same, a step up
 *   anticipation         then held or repeated as a tone of the next chord, on the weaker moment
 *   pedal                held or repeated before and after, while the chord changes over or under it
 */
export type NonChordKind =
  | 'passing'
  | 'neighbour'
  | 'double neighbour'
  | 'appoggiatura'
  | 'escape'
  | 'cambiata'
  | 'incomplete neighbour'
  | 'suspension'
  | 'retardation'
  | 'anticipation'
  | 'pedal'
  | 'unclassified';

/** A pitch that one voice holds (or repeats) outside its chords, with what stands on either side of it. */
export interface NonChordRun {
  readonly at: Ticks;
  readonly end: Ticks;
  readonly voice: string;
  readonly pitch: PitchName;
  readonly kind: NonChordKind;
  /** `4–3`; where the bass stays while a suspension resolves. */
  readonly figure: string | null;
  readonly before: PitchName | null;
  readonly after: PitchName | null;
  /** Indexes of the notes it covers. */
  readonly notes: readonly number[];
}

/** A stay on one pitch: parts of notes, of one pitch, all inside or all outside their chords. */
interface Stay {
  readonly pitch: PitchName;
  readonly at: Ticks;
  readonly end: Ticks;
  readonly tone: boolean;
  /** Joins what goes before without a rest. */
  readonly joined: boolean;
  readonly harmony: number;
  readonly notes: readonly number[];
}

function staysOf(texture: Texture, harmonies: readonly Harmony[], line: readonly number[]): Stay[] {
  const stays: Stay[] = [];
  let end: Ticks = 0;
  for (const index of line) {
    const note = texture.notes[index] as LineNote;
    harmonies.forEach((harmony, place) => {
      const [at, to] = [Math.max(note.at, harmony.at), Math.min(note.end, harmony.end)];
      if (at >= to) return;
      const tone = harmony.tones.includes(note.name);
      const last = stays.at(-1);
      if (last && !tone && !last.tone && last.pitch === note.pitch && last.end === at) {
        stays[stays.length - 1] = { ...last, end: to, notes: [...last.notes, index] };
      } else {
        const joined = at === end;
        stays.push({
          pitch: note.pitch,
          at,
          end: to,
          tone,
          joined,
          harmony: place,
          notes: [index],
        });
      }
      end = to;
    });
  }
  return stays;
}

/** Lines of one voice: a voice of chords is as many lines as its chords have notes, joined by nearest pitch. */
function linesOf(texture: Texture): number[][] {
  const lines: number[][] = [];
  const used = new Set<number>();
  texture.notes.forEach((_, first) => {
    if (used.has(first)) return;
    const line: number[] = [];
    let next: number | null = first;
    while (next !== null && !used.has(next)) {
      used.add(next);
      line.push(next);
      next = (texture.notes[next] as LineNote).after;
    }
    lines.push(line);
  });
  return lines;
}

interface Around {
  readonly texture: Texture;
  readonly approach: Motion;
  readonly departure: Motion;
  /** The moment is at least as strong as the one after, or strictly weaker. */
  readonly strong: boolean;
}

function onward(approach: Motion, departure: Motion): boolean {
  return approach.endsWith('up') === departure.endsWith('up');
}

/** By its two neighbours in the line, both stable. */
function kindBetween({ approach, departure, strong }: Around, newChord: boolean): NonChordKind {
  const from = approach.slice(0, 4);
  const to = departure.slice(0, 4);
  if (from === 'step' && to === 'step')
    return onward(approach, departure) ? 'passing' : 'neighbour';
  if (from === 'same' && to === 'same') return 'pedal';
  if (from === 'same' && to === 'step' && strong) {
    return departure === 'step down' ? 'suspension' : 'retardation';
  }
  if (to === 'same' && (from === 'step' || from === 'leap') && newChord && !strong) {
    return 'anticipation';
  }
  if (from === 'leap' && to === 'step') {
    return strong && !onward(approach, departure) ? 'appoggiatura' : 'incomplete neighbour';
  }
  if (from === 'step' && to === 'leap') {
    return !strong && !onward(approach, departure) ? 'escape' : 'incomplete neighbour';
  }
  return 'unclassified';
}

function isCambiata(around: Around, next: Stay, afterNext: Stay | undefined): boolean {
  const { approach, departure } = around;
  const third = departure.startsWith('leap') && onward(approach, departure);
  const back = afterNext?.joined ? motion(next.pitch, afterNext.pitch) : 'none';
  return (
    approach.startsWith('step') && third && back.startsWith('step') && !onward(departure, back)
  );
}

function kindOf(texture: Texture, stays: readonly Stay[], place: number): NonChordKind {
  const [before, stay, after] = [stays[place - 1], stays[place] as Stay, stays[place + 1]];
  if (!before || !after || !stay.joined || !after.joined) return 'unclassified';
  const around: Around = {
    texture,
    approach: motion(before.pitch, stay.pitch),
    departure: motion(stay.pitch, after.pitch),
    strong: texture.pulse.strengthAt(stay.at) >= texture.pulse.strengthAt(after.at),
  };
  if (before.tone && after.tone) {
    const third = Math.abs(requirePitch(after.pitch).step - requirePitch(stay.pitch).step) === 2;
    if (third && isCambiata(around, after, stays[place + 2])) return 'cambiata';
    return kindBetween(around, after.harmony !== stay.harmony);
  }
  if (before.tone === after.tone) return 'unclassified';
  return kindInPair(stays, before.tone ? place : place - 1);
}

/** Two notes outside their chords in a row, the first at `place`: a filled fourth, or a double neighbour. */
function kindInPair(stays: readonly Stay[], place: number): NonChordKind {
  const four = stays.slice(place - 1, place + 3);
  const [a, b, c, d] = four;
  if (!a || !b || !c || !d || !a.tone || b.tone || c.tone || !d.tone) return 'unclassified';
  if (!b.joined || !c.joined || !d.joined) return 'unclassified';
  const [one, two, three] = [
    motion(a.pitch, b.pitch),
    motion(b.pitch, c.pitch),
    motion(c.pitch, d.pitch),
  ];
  const steps = [one, two, three].map((each) => each.startsWith('step'));
  if (steps.every(Boolean) && onward(one, two) && onward(two, three)) return 'passing';
  const around = a.pitch === d.pitch && steps[0] && steps[2] && two.startsWith('leap');
  return around && !onward(one, two) ? 'double neighbour' : 'unclassified';
}

/** Size over the bass as figured bass counts it: 2 is a ninth where it resolves to the octave. */
function figureOf(texture: Texture, stay: Stay, after: Stay): string | null {
  const bassAt = (at: Ticks): LineNote | null => {
    const slice = texture.slices.findLast((each) => each.at <= at);
    const bass = slice?.bass ?? null;
    return bass === null ? null : (texture.notes[bass] as LineNote);
  };
  const [bass, then] = [bassAt(stay.at), bassAt(after.at)];
  if (!bass || !then || bass.pitch !== then.pitch || bass.pitch === stay.pitch) return null;
  const size = (pitch: PitchName) =>
    ((requirePitch(pitch).step - requirePitch(bass.pitch).step + 70) % 7) + 1;
  const [from, to] = [size(stay.pitch), size(after.pitch)];
  return to === 1 ? `${from === 2 ? 9 : from}–8` : `${from}–${to}`;
}

/** Every note outside its chord, named, by time and then by voice from the top. */
export function nonChordRuns(texture: Texture, harmonies: readonly Harmony[]): NonChordRun[] {
  const sounding = harmonies.filter((harmony) => harmony.tones.length > 0);
  const runs = linesOf(texture).flatMap((line) => {
    const stays = staysOf(texture, sounding, line);
    return stays.flatMap((stay, place): NonChordRun[] => {
      if (stay.tone) return [];
      const kind = kindOf(texture, stays, place);
      const [before, after] = [stays[place - 1], stays[place + 1]];
      const held = kind === 'suspension' || kind === 'retardation';
      return [
        {
          at: stay.at,
          end: stay.end,
          voice: (texture.notes[stay.notes[0] as number] as LineNote).voice,
          pitch: stay.pitch,
          kind,
          figure: held && after ? figureOf(texture, stay, after) : null,
          before: before && stay.joined ? before.pitch : null,
          after: after?.joined ? after.pitch : null,
          notes: stay.notes,
        },
      ];
    });
  });
  return runs.sort((a, b) => a.at - b.at);
}

/** Names of the notes of a harmony that sound in it. */
export function soundingTones(texture: Texture, harmony: Harmony): NoteName[] {
  const sounding = new Set(
    texture.slices
      .filter((slice) => slice.at >= harmony.at && slice.at < harmony.end)
      .flatMap((slice) => slice.sounding.map((index) => (texture.notes[index] as LineNote).name)),
  );
  return harmony.tones.filter((tone) => sounding.has(tone));
}
