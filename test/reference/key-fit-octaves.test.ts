import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  Intervals,
  KeyFit,
  Pitches,
  type Key,
  type OctaveChoice,
  type Score,
  type Singer,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { buildScore } from '#test/support/score-builder.ts';

const homeOf = (score: Score): Key => score.keys[0]?.key as Key;
const TWO = ['as written', 'octave below'] as const;
/** The hymns of more than one section, and each of the others with its halves, or thirds, made sections. */
const SONGS = HYMN_FILES.map(hymn).flatMap((score) =>
  score.sections.length > 1 ? [score] : [cut(score, 8), cut(score, 4, 8)],
);

/** In sections that begin after some bars: a verse, a refrain, a bridge. */
function cut(score: Score, ...after: readonly number[]): Score {
  const [whole] = score.sections;
  if (!whole) throw new Error('a song has a section');
  const starts = after.map((bars) => score.bars.find(({ number }) => number === bars)?.at ?? 0);
  const edges = [whole.from, ...starts, whole.to];
  const kinds = ['verse', 'refrain', 'bridge'] as const;
  const names = ['Verse', 'Refrain', 'Bridge'];
  return {
    ...score,
    sections: edges.slice(1).map((to, i) => ({
      id: kinds[i] ?? 'verse',
      kind: kinds[i] ?? 'verse',
      name: names[i] ?? '',
      from: edges[i] ?? 0,
      to,
    })),
    form: [],
  };
}

const range = (from: number, span: number): Singer['comfortable'] => ({
  low: name(from),
  high: name(from + span),
});
const name = (midi: number): string =>
  `${['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'][midi % 12] ?? ''}${Math.floor(midi / 12) - 1}`;

describe('an octave for each section', () => {
  const song = fc.constantFrom(...SONGS);
  const low = fc.integer({ min: 40, max: 62 });
  const size = fc.integer({ min: 6, max: 20 });

  it('there are songs to try it on', () => {
    expect(SONGS.length).toBeGreaterThan(40);
  });

  it('the best one is the best of every assignment there is, and of equals in the middle', () => {
    fc.assert(
      fc.property(song, low, size, fc.nat(11), (score, from, span, at) => {
        const singer: Singer = { id: 'a', name: 'Ada', comfortable: range(from, span) };
        const free = KeyFit.table(score, [{ ...singer, reads: 'free' }]).rows[at];
        if (!free) throw new Error('twelve keys');
        const ids = free.perSection.map(({ section }) => section);
        const all = Array.from({ length: 2 ** ids.length }, (_, bits) =>
          Object.fromEntries(ids.map((id, i) => [id, TWO[(bits >> i) & 1] ?? 'as written'])),
        );
        const rows = all.map(
          (octaves) => KeyFit.table(score, [singer], { octaves: { a: octaves } }).rows[at] ?? free,
        );
        const least = Math.min(...rows.map(({ shareOutside }) => shareOutside));
        expect(free.shareOutside).toBeCloseTo(least, 12);
        // Of those with the least outside, each section as near the middle of the voice as any has it.
        const best = rows.filter(({ shareOutside }) => Math.abs(shareOutside - least) < 1e-12);
        free.perSection.forEach(({ meanOffset }, i) => {
          const nearest = Math.min(
            ...best.map((row) => Math.abs(row.perSection[i]?.meanOffset ?? Infinity)),
          );
          expect(Math.abs(meanOffset)).toBeCloseTo(nearest, 9);
        });
      }),
      { numRuns: 200 },
    );
  });

  it('one octave for all is the better of two', () => {
    fc.assert(
      fc.property(song, low, size, fc.nat(11), (score, from, span, at) => {
        const singer: Singer = { id: 'a', name: 'Ada', comfortable: range(from, span) };
        const row = (octave?: OctaveChoice) =>
          KeyFit.table(score, [singer], octave ? { octaves: { a: octave } } : {}).rows[at];
        expect(row()?.shareOutside).toBe(
          Math.min(row('as written')?.shareOutside ?? 1, row('octave below')?.shareOutside ?? 1),
        );
        expect(row()?.octave).not.toBe('free');
      }),
      { numRuns: 60 },
    );
  });

  it('is said in words', () => {
    const score = cut(hymn('Amazing_Grace-New_Britain.abc'), 8);
    const tomas: Singer = { id: 't', name: 'Tomas', comfortable: { low: 'A2', high: 'D4' } };
    const said = (octaves: Record<string, OctaveChoice> | OctaveChoice) =>
      KeyFit.demands(score, { tempo: null })(tomas, homeOf(score), { t: octaves })?.octaves;
    expect(said('as written')).toBe('');
    expect(said('octave below')).toBe('Tomas sings an octave below.');
    expect(said({ refrain: 'octave below', verse: 'as written' })).toBe(
      'Tomas sings the refrain an octave below.',
    );
  });

  it('what leaps from one section to the next is what sounds', () => {
    const score = cut(hymn('Amazing_Grace-New_Britain.abc'), 8);
    const ada: Singer = { id: 'a', name: 'Ada', comfortable: { low: 'A3', high: 'D5' } };
    const octaves = {
      a: { refrain: 'octave below', verse: 'as written' },
    } as const;
    const { leap, notes } =
      KeyFit.demands(score, { tempo: null })(ada, homeOf(score), octaves) ?? {};
    const at = notes?.findIndex(({ section }) => section === 'refrain') ?? 0;
    const [from, to] = [notes?.[at - 1]?.midi ?? 0, notes?.[at]?.midi ?? 0];
    expect(leap?.interval.semitones).toBe(to - from);
    expect(leap?.to.section).toBe('refrain');
  });
});

describe('a man a third “above” a woman', () => {
  const SONG = buildScore({
    key: 'C',
    meter: '4/4',
    voices: { tune: 'C5 D5 E5 D5 | C5 B4 C5:2', above: 'E5 F5 G5 F5 | E5 D5 E5:2' },
  });
  const tune: Singer = { id: 'ada', name: 'Ada', comfortable: { low: 'A4', high: 'E5' } };
  const third: Singer = { id: 'tomas', name: 'Tomas', comfortable: { low: 'C4', high: 'A4' } };
  const notesOf = (singer: Singer, voice?: string) =>
    KeyFit.demands(SONG, { tempo: null, ...(voice ? { voice } : {}) })(singer, homeOf(SONG))
      ?.notes ?? [];

  it('sounds a sixth below her, note for note', () => {
    const [hers, his] = [notesOf(tune), notesOf(third, 'above')];
    expect(his.map(({ pitch }) => pitch)).toEqual('E4 F4 G4 F4 E4 D4 E4'.split(' '));
    hers.forEach(({ pitch }, i) => {
      const { steps, semitones } = Intervals.intervalBetween(his[i]?.pitch ?? '', pitch);
      expect(steps).toBe(5);
      expect([8, 9]).toContain(semitones);
    });
  });

  it('is measured where it sounds: it fits him, and would fit nobody where it is written', () => {
    const [low, high] = ['D4', 'G4'];
    const row = KeyFit.table(SONG, [third], { voice: 'above', keys: [homeOf(SONG)] }).rows[0];
    expect(row).toMatchObject({ octave: 'octave below', low, high, shareOutside: 0 });
    expect(row?.upperReserve).toBe(Pitches.midiOf('A4') - Pitches.midiOf(high));
    const written = KeyFit.table(SONG, [{ ...third, reads: 'as written' }], {
      voice: 'above',
      keys: [homeOf(SONG)],
    }).rows[0];
    expect(written?.shareOutside).toBe(1);
  });
});
