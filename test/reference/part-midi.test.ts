import { describe, expect, it } from 'vitest';
import { ChordSymbol, PartFiles, Parts, QUARTER, type Part, type Player, type Score } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { heardChannels, heardSeconds, heardTracks } from '#test/support/midi-heard.ts';

/*
 * The MIDI of parts as somebody practises with it, heard by midi-file 1.2.4, which shares no code with ours. What stands in
 * the file, note by note, is `part-files.test.ts`; here is how it sounds: nothing hangs, no
 * chord rings into the next, and it takes as long as its bars.
 */

const RUNGS = [1, 3, 4] as const;
const PLAYERS: readonly Pick<Player, 'role' | 'level' | 'rungs'>[] = [
  ...RUNGS.map((step) => ({
    role: 'keys' as const,
    level: 'beginner' as const,
    rungs: { right: step, left: step, pedal: 1 as const, texture: 6 as const },
  })),
  ...(['beginner', 'intermediate', 'advanced'] as const).map((level) => ({ role: 'bass' as const, level })),
]; // prettier-ignore
const TEXTURES = ['held', 'answered', 'leading', 'every beat', 'swaying', 'broken'] as const;
/** Seconds of rounding: MIDI holds whole microseconds to a quarter (RP-001). */
const NEAR = 0.01;
const TEMPO = { beat: QUARTER, perMinute: 72 } as const;

interface Made {
  readonly name: string;
  readonly part: Part;
  readonly bytes: Uint8Array;
}

function partsOf(file: string, place: number): Made[] {
  const score: Score = hymn(file);
  const key = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
  const form = score.form.map((pass, k) => ({
    ...pass,
    texture: TEXTURES[(place + k) % TEXTURES.length] ?? 'held',
  }));
  return PLAYERS.map((facts) => {
    const player: Player = { id: 'p', name: 'Ines', reach: 12, ...facts };
    const arrangement = { key, tempo: TEMPO, density: 'bar', form } as const;
    const built = Parts.build(score, arrangement, player, { roles: ['keys', 'bass'] });
    if (!built.ok) throw new Error(`${file}: ${built.problems[0]?.message ?? ''}`);
    const name = `${file} ${facts.role} ${JSON.stringify(facts.rungs ?? facts.level)}`;
    return { name, part: built.value, bytes: PartFiles.midi(built.value) };
  });
}

const made = HYMN_FILES.flatMap(partsOf);
const played = (bytes: Uint8Array) =>
  heardTracks(bytes).filter(({ name }) => ['Right hand', 'Left hand', 'Bass'].includes(name));

describe('The MIDI of a part', () => {
  it('lets go of every note, and strikes none that its channel still holds', () => {
    let notes = 0;
    for (const { name, bytes } of made)
      for (const track of played(bytes)) {
        const until = new Map<number, number>();
        for (const { at, length, midi } of track.notes) {
          expect(length, `${name}, ${track.name}: ${String(midi)} at ${String(at)}`).toBeGreaterThan(0); // prettier-ignore
          expect(at, `${name}, ${track.name}: ${String(midi)} again`).toBeGreaterThanOrEqual(until.get(midi) ?? 0); // prettier-ignore
          until.set(midi, at + length);
          notes += 1;
        }
      }
    expect(notes).toBeGreaterThan(10_000);
  });

  it('holds no note by the fingers beyond the end of its bar', () => {
    for (const { name, part, bytes } of made)
      for (const track of played(bytes))
        for (const { at, length } of track.notes) {
          const bar = part.score.bars.find((each) => at < each.at + each.length);
          const end = (bar?.at ?? NaN) + (bar?.length ?? NaN);
          expect(at + length, `${name}, ${track.name}, bar ${String(bar?.number)}`).toBeLessThanOrEqual(end); // prettier-ignore
        }
  });

  it('takes as long as its bars at its tempo, and every pass of the form as long as its section', () => {
    let inForm = 0;
    for (const { name, part, bytes } of made) {
      const { bars, tempo, tempoChanges = [], form, sections } = part.score;
      expect(tempo, name).toEqual(TEMPO);
      const end = bars.reduce((sum, { length }) => sum + length, 0);
      const tempos = [{ at: 0, tempo: TEMPO }, ...tempoChanges];
      const minutes = tempos.reduce((sum, each, i) => {
        const until = tempos[i + 1]?.at ?? end;
        return sum + (until - each.at) / each.tempo.beat / each.tempo.perMinute;
      }, 0);
      expect(Math.abs(heardSeconds(bytes) - minutes * 60), name).toBeLessThan(NEAR);
      const isPlain = bars.every((bar) => !bar.repeatEnd && bar.endings.length === 0);
      if (!isPlain || tempoChanges.length > 0) continue;
      const ticks = form.reduce((sum, { section: id }) => {
        const section = sections.find((each) => each.id === id);
        return sum + (section?.to ?? NaN) - (section?.from ?? NaN);
      }, 0);
      const whole = heardSeconds(PartFiles.midi(part, { passes: 'form' }));
      const seconds = (ticks / TEMPO.beat / TEMPO.perMinute) * 60;
      expect(Math.abs(whole - seconds), `${name}, all passes`).toBeLessThan(NEAR);
      inForm += 1;
    }
    expect(inForm).toBeGreaterThan(made.length / 2);
  });

  it('has the foot up as each new chord is struck, and down again at once', () => {
    let changes = 0;
    for (const { name, part, bytes } of made) {
      if (part.role !== 'keys') continue;
      const left = heardChannels(bytes).find((each) => each.name === 'Left hand');
      const pedal = left?.pedal ?? [];
      const struck = new Set(left?.struck.map(({ at }) => at));
      const { chords } = part.score;
      for (const [i, { at, chord }] of chords.entries()) {
        const before = chords[i - 1]?.chord;
        if (!chord || !before || !struck.has(at)) continue;
        if (ChordSymbol.write(chord) === ChordSymbol.write(before)) continue;
        const place = `${name}, ${ChordSymbol.write(before)} to ${ChordSymbol.write(chord)} at quarter ${String(at / QUARTER)}`;
        expect(pedal.findLast((move) => move.at <= at)?.isDown ?? false, place).toBe(false);
        const next = pedal.find((move) => move.at > at);
        expect(next?.isDown, place).toBe(true);
        expect((next?.at ?? NaN) - at, place).toBeLessThanOrEqual(QUARTER / 8);
        changes += 1;
      }
    }
    expect(changes).toBeGreaterThan(2000);
  });
});
