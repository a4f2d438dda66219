import { Chord } from 'tonal';
import { describe, expect, it } from 'vitest';
import {
  ChordSymbol,
  PartFiles,
  Parts,
  Pitches,
  QUARTER,
  Time,
  Transition,
  TEXTURES,
  type Key,
  type Part,
  type Player,
  type Score,
  type WayKind,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { faultsOf } from '#test/support/judge-keys.ts';
import { lineFaults } from '#test/support/judge-bass.ts';
import { heardTracks } from '#test/support/midi-heard.ts';
import { schemaErrors } from '#test/support/musicxml-schema.ts';

/*
 * Bars that lead on, in every hymn and twelve keys to go to. Judged by the parts' own judges (written without the code that
 * makes the parts), by what tonal says a chord symbol sounds, by the W3C's schema of MusicXML and by midi-file's reading.
 */

const TWELVE = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;
const KINDS: readonly WayKind[] = ['common chord', 'dominant', 'held bass', 'loop'];
const PLAYERS: readonly Pick<Player, 'role' | 'rungs'>[] = [
  { role: 'keys' },
  { role: 'keys', rungs: { right: 3, left: 3, texture: 6, pedal: 1 } },
  { role: 'keys', rungs: { right: 4, left: 4, texture: 4 } },
  { role: 'bass' },
  { role: 'bass', rungs: { bass: 2 } },
  { role: 'bass', rungs: { bass: 3 } },
];

const home = (score: Score): Key => score.keys[0]?.key as Key;

function partOf(score: Score, tonic: string, kind: WayKind, player: (typeof PLAYERS)[number]) {
  const key = home(score);
  const texture = TEXTURES[TWELVE.findIndex((each) => each === tonic) % TEXTURES.length] ?? 'held';
  const arrangement = {
    key,
    tempo: { beat: QUARTER, perMinute: 90 },
    density: 'bar',
    form: score.form.map((pass) => ({ ...pass, texture })),
    onward: {
      kind,
      title: 'The next one',
      to: { key: { tonic, mode: 'major' }, tempo: { beat: QUARTER, perMinute: 72 } },
      sounds: key,
      spoken: '',
    },
  } as const;
  const whole: Player = { id: 'p', name: 'Ines', level: 'beginner', reach: 12, ...player };
  const built = Parts.build(score, arrangement, whole, { roles: ['keys', 'bass'] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const linksOf = ({ score }: Part) => score.sections.filter(({ id }) => id.startsWith('onward'));

/** Pitch classes that tonal has for a symbol; the bass of a slash chord belongs to it. */
function byTonal(symbol: string): number[] {
  const [name = '', bass] = symbol.split('/');
  const { notes } = Chord.get(name);
  return [...notes, ...(bass ? [bass] : [])].map((note) => Pitches.pitchClassOf(note));
}

describe.each(HYMN_FILES)('%s', (file) => {
  const score = hymn(file);
  it.each(TWELVE)('on to a song in %s: hands and bass play full bars of the chords', (tonic) => {
    const turn = HYMN_FILES.indexOf(file) + TWELVE.indexOf(tonic);
    const to = { key: { tonic, mode: 'major' as const }, tempo: null };
    const { ways } = Transition.between({ key: home(score), tempo: null }, to);
    const own = ways.filter((way) => KINDS.includes(way.kind));
    // One of them for each key, so that every hymn goes every way.
    for (const { kind, chords } of own.filter((_, place) => place === turn % own.length)) {
      const player = PLAYERS[(turn + KINDS.indexOf(kind)) % PLAYERS.length] ?? { role: 'keys' };
      const part = partOf(score, tonic, kind, player);
      const rules = { reach: 12, lowest: 'E1', highest: 'A5' };
      const faults = player.role === 'bass' ? lineFaults(part, 'E1', 'D3') : faultsOf(part, rules);
      expect(faults.slice(0, 3), `${kind} ${JSON.stringify(player)}`).toEqual([]);
      const [first] = linksOf(part);
      if (!first) throw new Error('no bars lead on');
      const bars = part.score.bars.filter(({ at }) => at >= first.from);
      const full = Time.barLength(Time.meterAt(part.score, first.from)) ?? 4 * QUARTER;
      // Full bars, but for the beats that fill the last one of the song.
      expect(bars.filter(({ length }) => length === full).length).toBeGreaterThanOrEqual(
        chords.length,
      );
      expect(bars.slice(-chords.length).every(({ length }) => length === full)).toBe(true);
      bars.slice(-chords.length).forEach((bar, i) => {
        const symbol = ChordSymbol.write(
          chords[i] ?? { root: 'C', kind: 'none', degrees: [], bass: null },
        );
        const sounding = part.score.voices
          .filter(({ id }) => ['right', 'left', 'bass'].includes(id))
          .flatMap(({ notes }) => notes.filter(({ at }) => at === bar.at).flatMap(({ pitches }) => pitches)); // prettier-ignore
        expect(sounding.length, `${symbol} sounds`).toBeGreaterThan(0);
        const allowed = byTonal(symbol);
        expect(allowed.length, symbol).toBeGreaterThan(2);
        for (const pitch of sounding)
          expect(allowed, `${pitch} in ${symbol}`).toContain(Pitches.pitchClassOf(Pitches.noteOf(pitch))); // prettier-ignore
      });
      expect(Time.melodyOf(part.score).notes.filter(({ at }) => at >= first.from).every(({ pitches }) => pitches.length === 0)).toBe(true); // prettier-ignore
    }
  });
});

describe('Files of parts with bars that lead on', () => {
  const made = HYMN_FILES.map((file, i) => {
    const player = PLAYERS[i % PLAYERS.length] ?? { role: 'keys' };
    return [file, partOf(hymn(file), TWELVE[(i * 5) % 12] ?? 'G', 'loop', player)] as const;
  });

  it('are MusicXML by its schema', async () => {
    const files = made.map(([file, part], i) => [
      `${i}-${file}.xml`,
      PartFiles.musicXml(part, { name: 'Ines' }),
    ]);
    expect(await schemaErrors(Object.fromEntries(files) as Record<string, string>)).toEqual([]);
  });

  it('sound to the last bar, by midi-file', () => {
    for (const [file, part] of made) {
      const last = part.score.bars.at(-1)?.at ?? Infinity;
      const heard = heardTracks(PartFiles.midi(part)).flatMap(({ notes }) => notes);
      expect(
        heard.some(({ at }) => at >= last),
        file,
      ).toBe(true);
    }
  });
});
