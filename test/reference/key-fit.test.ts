import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Congregation, KeyFit, Parts, Pitches, Transpose, type FitRow, type Singer } from '#music';
import { hymn } from '#test/support/hymn.ts';

/**
 * Formulas: lower and upper reserve and tessitura shift, Herbst et al. 2012 (International Journal of Research in
 * Choral Singing 5 (1)); time outside and mean by pitch–time weighting (tables/hymn-tessitura.ts). The rows below are
 * worked out by hand from the times of the tunes in the Open Hymnal Project: New Britain D4 8, E4 3, G4 17.5, A4 3,
 * B4 9.5, D5 7 quarters; Old Hundredth D4 1, E4 3, F#4 3, G4 16, A4 11, B4 13, C5 3, D5 2; St Anne E4 1, F#4 1, G4 8,
 * A4 5, B4 5, C5 10, D5 2.
 */
const NEW_BRITAIN = hymn('Amazing_Grace-New_Britain.abc');
const OLD_HUNDREDTH = hymn('Awake_My_Soul_And_With_The_Sun-Old_100th.abc');
const ST_ANNE = hymn('Our_God_Our_Help_In_Ages_Past-St_Anne.abc');

const singer = (low: string, high: string, more: Partial<Singer> = {}): Singer => ({
  id: 'lead',
  name: 'Ruth',
  comfortable: { low, high },
  reads: 'as written',
  ...more,
});
const LEAD = singer('A3', 'D5');
const inKey = (rows: readonly FitRow[], tonic: string): FitRow => {
  const row = rows.find(({ key }) => key.tonic === tonic);
  if (!row) throw new Error(`no row in ${tonic}`);
  return row;
};
const percent = (share: number): number => Math.round(1000 * share) / 10;
const hundredths = (value: number): number => Math.round(100 * value) / 100;

/** key, low, high, lower and upper reserve, shift, % outside, mean from the middle: for A3 to D5, the tune as written. */
const RANKING = [
  ['Db', 'Ab3', 'Ab4', -1, 6, -3.5, 16.7, -3.58],
  ['D', 'A3', 'A4', 0, 5, -2.5, 0, -2.58],
  ['Eb', 'Bb3', 'Bb4', 1, 4, -1.5, 0, -1.58],
  ['E', 'B3', 'B4', 2, 3, -0.5, 0, -0.58],
  ['F', 'C4', 'C5', 3, 2, 0.5, 0, 0.42],
  ['F#', 'C#4', 'C#5', 4, 1, 1.5, 0, 1.42],
  ['G', 'D4', 'D5', 5, 0, 2.5, 0, 2.42],
  ['Ab', 'Eb4', 'Eb5', 6, -1, 3.5, 14.6, 3.42],
] as const;
const octaves = (pitch: string, by: number): string =>
  pitch.replace(/\d+$/, (octave) => String(Number(octave) + by));

describe('New Britain for a voice from A3 to D5', () => {
  const fit = KeyFit.table(NEW_BRITAIN, [LEAD]);

  it.each(RANKING)(
    'in %s: %s to %s, reserves %d and %d, shift %d, %d %% outside, mean %d from the middle',
    (key, low, high, lowerReserve, upperReserve, shift, outside, meanOffset) => {
      const row = inKey(fit.rows, key);
      expect(row).toMatchObject({ low, high, lowerReserve, upperReserve, shift });
      expect(percent(row.shareOutside)).toBe(outside);
      expect(hundredths(row.meanOffset)).toBe(meanOffset);
    },
  );

  it('G flat is F sharp in other letters', () => {
    const keys = [{ tonic: 'Gb', mode: 'major' }] as const;
    const flat = inKey(KeyFit.table(NEW_BRITAIN, [LEAD], { keys }).rows, 'Gb');
    expect([flat.low, flat.high]).toEqual(['Db4', 'Db5']);
    expect(flat.shift).toBe(inKey(fit.rows, 'F#').shift);
  });

  it('fits in exactly six keys', () => {
    const fitting = fit.rows.filter(({ shareOutside }) => shareOutside === 0);
    expect(fitting.map(({ key }) => key.tonic).join(' ')).toBe('D Eb E F F# G');
  });

  it('lies best in E and F by the shift, and in F by the mean over time', () => {
    const by = (value: (row: FitRow) => number) =>
      [...fit.rows].sort((a, b) => Math.abs(value(a)) - Math.abs(value(b)));
    const byShift = by(({ shift }) => shift);
    expect(byShift.slice(0, 2).map(({ key }) => key.tonic)).toEqual(['E', 'F']);
    expect(Math.abs(byShift[2]?.shift ?? 0)).toBeGreaterThan(0.5);
    expect(by(({ meanOffset }) => meanOffset)[0]?.key.tonic).toBe('F');
    expect(
      fit.rows.filter(({ verdict }) => verdict === 'easy').map((row) => row.key.tonic),
    ).toEqual(['E', 'F']);
  });

  it('in G it has nothing left above, and says so', () => {
    const row = inKey(fit.rows, 'G');
    expect(row.upperReserve).toBe(0);
    expect(row.reason).toBe(
      'Works for Ruth, but near the top: bar 7 holds D5, the highest that sits easily, for five beats, and the song stays up there for seven beats of its 48.',
    );
  });

  it('suggests F: of the two easy keys it is nearer, plainer and nearer the middle', () => {
    const found = KeyFit.front(fit, { lead: 'lead' });
    expect(found.suggestion?.key.tonic).toBe('F');
    expect(found.dropped.map(({ key }) => key.tonic).join(' ')).toBe('C Db Ab A Bb B');
    expect(found.rows.find(({ key }) => key.tonic === 'E')?.dominated?.by.tonic).toBe('F');
  });

  it.each([
    ['A3', 'D5'],
    ['A3', 'C5'],
  ])('still suggests F for %s to %s once the beginner’s hands are weighed', (low, high) => {
    const lead = { ...LEAD, id: 'lead', comfortable: { low, high } };
    const player = { name: 'Joel', reach: 12 };
    const handCost = Parts.handCosts(NEW_BRITAIN, { tempo: null, density: 'bar' }, player);
    const room = Congregation.voice();
    const found = KeyFit.front(KeyFit.table(NEW_BRITAIN, [lead, room]), {
      lead: 'lead',
      congregation: room.id,
      handCost: (key) => {
        const cost = handCost(key);
        return 'total' in cost ? cost : null;
      },
    });
    expect(found.suggestion?.key.tonic).toBe('F');
  });
});

/** The same figures in other octaves: what sounds is compared, wherever it is written. */
describe.each([
  ['a man reads the treble tune', NEW_BRITAIN, singer('A2', 'D4', { reads: 'octave below' }), -1],
  [
    'a man takes the octave that lies better',
    NEW_BRITAIN,
    { id: 'lead', name: 'Ruth', comfortable: { low: 'A2', high: 'D4' } },
    -1,
  ],
  [
    'the tune is written an octave below',
    Transpose.by(NEW_BRITAIN, { steps: -7, semitones: -12 }),
    singer('A2', 'D4'),
    -1,
  ],
  [
    'the tune is written an octave above, and read below',
    Transpose.by(NEW_BRITAIN, { steps: 7, semitones: 12 }),
    singer('A3', 'D5', { reads: 'octave below' }),
    0,
  ],
  [
    'tune and voice stand two octaves below',
    Transpose.by(NEW_BRITAIN, { steps: -14, semitones: -24 }),
    singer('A1', 'D3'),
    -2,
  ],
] as const)('the ranking where %s', (_what, score, voice, by) => {
  const { rows } = KeyFit.table(score, [voice]);

  it.each(RANKING)('%s', (key, low, high, lowerReserve, upperReserve, shift, outside, mean) => {
    const row = inKey(rows, key);
    expect(row).toMatchObject({
      low: octaves(low, by),
      high: octaves(high, by),
      lowerReserve,
      upperReserve,
      shift,
    });
    expect(percent(row.shareOutside)).toBe(outside);
    expect(hundredths(row.meanOffset)).toBe(mean);
  });

  it('the same six keys fit, and F lies best', () => {
    const fitting = rows.filter(({ shareOutside }) => shareOutside === 0);
    expect(fitting.map(({ key }) => key.tonic).join(' ')).toBe('D Eb E F F# G');
    expect(KeyFit.front(KeyFit.table(score, [voice]), { lead: 'lead' }).suggestion?.key.tonic).toBe(
      'F',
    );
  });
});

describe('time tells apart what the range cannot', () => {
  const inG = (score: typeof NEW_BRITAIN) =>
    inKey(KeyFit.table(score, [LEAD], { keys: [{ tonic: 'G', mode: 'major' }] }).rows, 'G');

  it('Old Hundredth and New Britain both span D4 to D5 in G; Old Hundredth is easier on top', () => {
    const [old, grace] = [inG(OLD_HUNDREDTH), inG(NEW_BRITAIN)];
    for (const row of [old, grace]) {
      expect(row).toMatchObject({ low: 'D4', high: 'D5', upperReserve: 0, shift: 2.5 });
    }
    expect(hundredths(100 * old.shareAtTop)).toBe(3.85);
    expect(hundredths(100 * grace.shareAtTop)).toBe(14.58);
    expect([old.verdict, grace.verdict]).toEqual(['easy', 'works']);
  });

  it('St Anne in C has the narrower range, yet lies highest', () => {
    const anne = inKey(KeyFit.table(ST_ANNE, [LEAD]).rows, 'C');
    expect([anne.low, anne.high]).toEqual(['E4', 'D5']);
    expect(hundredths(anne.mean)).toBe(69.81);
    expect(hundredths(100 * anne.shareAtTop)).toBe(6.25);
    expect(anne.meanOffset).toBeGreaterThan(inG(OLD_HUNDREDTH).meanOffset);
    expect(anne.meanOffset).toBeGreaterThan(inG(NEW_BRITAIN).meanOffset);
    expect(anne.verdict).toBe('works');
    expect(anne.reason).toContain('lying high');
  });
});

describe('whatever the tune, the key and the voice', () => {
  const tune = fc.constantFrom(NEW_BRITAIN, OLD_HUNDREDTH, ST_ANNE);
  const low = fc.integer({ min: 45, max: 64 });
  const size = fc.integer({ min: 5, max: 24 });
  const pitch = (midi: number) =>
    `${['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'][midi % 12] ?? ''}${Math.floor(midi / 12) - 1}`;
  const range = (from: number, to: number) => singer(pitch(from), pitch(to));

  it('the shift grows by the half steps of the transposition', () => {
    fc.assert(
      fc.property(tune, low, size, (score, from, span) => {
        const { rows } = KeyFit.table(score, [range(from, from + span)]);
        const home = rows.find(({ interval }) => interval.semitones === 0);
        for (const row of rows) {
          expect(row.shift - (home?.shift ?? 0)).toBe(row.interval.semitones);
          expect(row.meanOffset - (home?.meanOffset ?? 0)).toBeCloseTo(row.interval.semitones, 9);
          expect(row.shift).toBe((row.lowerReserve - row.upperReserve) / 2);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('a narrower range never leaves less outside, nor a better verdict on what is outside', () => {
    const cut = fc.integer({ min: 0, max: 4 });
    fc.assert(
      fc.property(tune, low, size, cut, cut, (score, from, span, bottom, top) => {
        fc.pre(bottom + top <= span);
        const { rows } = KeyFit.table(score, [
          range(from, from + span),
          { ...range(from + bottom, from + span - top), id: 'narrower' },
        ]);
        const narrower = rows.filter(({ voice }) => voice === 'narrower');
        rows
          .filter(({ voice }) => voice === 'lead')
          .forEach((wide, i) => {
            expect(narrower[i]?.shareOutside).toBeGreaterThanOrEqual(wide.shareOutside);
            if (wide.verdict === 'outside') expect(narrower[i]?.verdict).toBe('outside');
          });
      }),
      { numRuns: 60 },
    );
  });

  it('an octave below is the same for a range an octave below', () => {
    fc.assert(
      fc.property(tune, low, size, (score, from, span) => {
        const down = { ...range(from - 12, from - 12 + span), id: 'down' };
        const { rows } = KeyFit.table(score, [
          range(from, from + span),
          { ...down, reads: 'octave below' },
        ]);
        for (let i = 0; i < rows.length; i += 2) {
          const [up, below] = [rows[i], rows[i + 1]];
          expect(Pitches.midiOf(up?.low ?? '') - Pitches.midiOf(below?.low ?? '')).toBe(12);
          expect(Pitches.midiOf(up?.high ?? '') - Pitches.midiOf(below?.high ?? '')).toBe(12);
          expect(up?.shareOutside).toBe(below?.shareOutside);
          expect(up?.verdict).toBe(below?.verdict);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('the octave that is chosen leaves no more outside than the other one', () => {
    fc.assert(
      fc.property(tune, low, size, (score, from, span) => {
        const voice = (id: string, reads?: 'as written' | 'octave below'): Singer => {
          const { reads: _, ...rest } = range(from, from + span);
          return { ...rest, id, ...(reads ? { reads } : {}) };
        };
        const voices = [voice('any'), voice('up', 'as written'), voice('down', 'octave below')];
        const { rows } = KeyFit.table(score, voices);
        for (let i = 0; i < rows.length; i += 3) {
          const [any, up, down] = rows.slice(i, i + 3).map(({ shareOutside }) => shareOutside);
          expect(any).toBe(Math.min(up ?? 1, down ?? 1));
        }
      }),
      { numRuns: 60 },
    );
  });

  it('each sentence names a bar that the score has, a pitch and beats', () => {
    fc.assert(
      fc.property(tune, low, size, (score, from, span) => {
        const numbers = score.bars.map(({ number }) => number);
        for (const { reason, name } of KeyFit.table(score, [range(from, from + span)]).rows) {
          expect(reason).toContain(name);
          expect(reason).toMatch(/[A-G][♯♭]*\d/);
          expect(reason).toMatch(/\bbeats?\b/);
          const bar = /bar (\d+)/.exec(reason)?.[1];
          expect(reason.includes('the pickup') || numbers.includes(Number(bar))).toBe(true);
        }
      }),
      { numRuns: 40 },
    );
  });
});
