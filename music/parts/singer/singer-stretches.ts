import { midiOf, type PitchName } from '../../pitch/pitch.ts';
import { plusOctaves, transposePitch, UNISON } from '../../pitch/interval.ts';
import type { Score, Ticks, Voice } from '../../score/score.ts';
import { melodyOf } from '../../score/time.ts';
import type { FitRow } from '../../voice/fit-row.ts';
import type { Octave, Range } from '../../voice/range.ts';
import { FELT_BEAT, sungSections, type SungNote } from '../../voice/sung.ts';

/** What stands above a note: the ends of the comfortable range count as high and low, as in key fit. */
export type Lie = 'high' | 'low' | 'too high' | 'too low';

/** Notes without a rest between them that lie at one end of a voice, or beyond it. */
export interface VoiceStretch {
  readonly side: 'high' | 'low';
  /** Whether a note of it lies outside the comfortable range. */
  readonly outside: boolean;
  readonly notes: readonly SungNote[];
  /** The note furthest out, sounding; of equals the first. */
  readonly furthest: PitchName;
  /** In all, times `FELT_BEAT`. */
  readonly felt: number;
  /** Where a word stands above the staff: at its beginning, and where it first leaves the range. */
  readonly marks: readonly { readonly at: Ticks; readonly lie: Lie }[];
}

/** What a written pitch sounds like in a voice. */
export function sounding(pitch: PitchName, octave: Octave): PitchName {
  return octave === 'octave below' ? transposePitch(pitch, plusOctaves(UNISON, -1)) : pitch;
}

/** Where a sounding pitch lies: within a half step of the range's end, or outside it; null: it sits easily. */
export function lieOf(pitch: PitchName, { low, high }: Range): Lie | null {
  const [midi, least, most] = [midiOf(pitch), midiOf(low), midiOf(high)];
  if (midi > most) return 'too high';
  if (midi < least) return 'too low';
  if (midi >= most - 1) return 'high';
  return midi <= least + 1 ? 'low' : null;
}

const sideOf = (lie: Lie) => (lie.endsWith('high') ? 'high' : 'low');

/**
 * The stretches of a tune that lie high or low in a voice, in order. The end of a range that is touched for less than a
 * felt beat is none (key fit says "touches" there too).
 */
export function stretchesOf(song: Score, row: FitRow, range: Range): VoiceStretch[] {
  const octaves = new Map(row.perSection.map(({ section, octave }) => [section, octave]));
  return sungSections(song).flatMap(({ id, notes }) => {
    const octave = octaves.get(id) ?? 'as written';
    const runs: { lie: Lie; note: SungNote; pitch: PitchName }[][] = [];
    for (const note of notes) {
      const pitch = sounding(note.pitch, octave);
      const lie = lieOf(pitch, range);
      if (!lie) continue;
      const run = runs.at(-1);
      const last = run?.at(-1);
      const goesOn =
        last !== undefined &&
        last.note.at + last.note.length === note.at &&
        sideOf(last.lie) === sideOf(lie);
      if (run && goesOn) run.push({ lie, note, pitch });
      else runs.push([{ lie, note, pitch }]);
    }
    return runs.map(stretchOf).filter(({ outside, felt }) => outside || felt >= FELT_BEAT);
  });
}

function stretchOf(
  run: readonly { readonly lie: Lie; readonly note: SungNote; readonly pitch: PitchName }[],
): VoiceStretch {
  const [first] = run;
  if (!first) throw new RangeError('a stretch has a note');
  const side = sideOf(first.lie);
  const out = (pitch: PitchName) => (side === 'high' ? midiOf(pitch) : -midiOf(pitch));
  const furthest = run.reduce((best, each) => (out(each.pitch) > out(best.pitch) ? each : best));
  const leaves = run.find(({ lie }) => lie.startsWith('too'));
  const marks = leaves && leaves !== first ? [first, leaves] : [first];
  return {
    side,
    outside: leaves !== undefined,
    notes: run.map(({ note }) => note),
    furthest: furthest.pitch,
    felt: run.reduce((sum, { note }) => sum + note.felt, 0),
    marks: marks.map(({ note, lie }) => ({ at: note.at, lie })),
  };
}

/** The tune with the word above the first note of each stretch. */
export function marked(song: Score, stretches: readonly VoiceStretch[]): Voice {
  const words = new Map(stretches.flatMap(({ marks }) => marks.map(({ at, lie }) => [at, lie])));
  const melody = melodyOf(song);
  return {
    ...melody,
    notes: melody.notes.map((note) => {
      const above = note.pitches.length > 0 ? words.get(note.at) : undefined;
      return above === undefined ? note : { ...note, above };
    }),
  };
}
