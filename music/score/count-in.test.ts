import { describe, expect, it } from 'vitest';
import { ChordSymbol, CountIn, QUARTER, type Chord } from '#music';
import { buildScore } from '#test/support/score-builder.ts';

function chord(text: string): Chord {
  const read = ChordSymbol.read(text);
  if (!read.ok) throw new Error(text);
  return read.value;
}

/** A pickup of so many quarters before one full bar; the first chord stands on the full bar's beat one. */
function song(meter: string, full: string, pickup: string | null, quarters = 0) {
  return buildScore({
    key: 'G major',
    meter,
    voices: { tune: pickup === null ? `G4:${full}` : `D4:${pickup} | G4:${full} | G4:${full}` },
    chords: [[quarters, chord('G')]],
  });
}

/**
 * Lengths are in quarters. Common practice: one full bar is counted, then the beats before the pickup. The rows with
 * "a half beat" and so on count the lower figure's note; in 6/8 and 9/8 the felt beat is three eighths.
 */
const TABLE: readonly [
  meter: string,
  what: string,
  full: string,
  pickup: string | null,
  quarters: number,
  words: string,
  enterAt: number,
][] = [
  ['4/4', 'none', '4', null, 0, '1 2 3 4 | (sing)', 4],
  ['4/4', 'a half beat', '4', '1/2', 0.5, '1 2 3 4 | 1 2 3 4 (sing on "and")', 7.5],
  ['4/4', 'one beat', '4', '1', 1, '1 2 3 4 | 1 2 3 (sing)', 7],
  ['4/4', 'a beat and a half', '4', '3/2', 1.5, '1 2 3 4 | 1 2 3 (sing on "and")', 6.5],
  ['4/4', 'two beats', '4', '2', 2, '1 2 3 4 | 1 2 (sing)', 6],
  ['4/4', 'three beats', '4', '3', 3, '1 2 3 4 | 1 (sing)', 5],
  ['4/4', 'a quarter of a beat', '4', '1/4', 0.25, '1 2 3 4 | 1 2 3 4 e and (sing on "a")', 7.75],
  ['4/4', 'a third of a beat', '4', '1/3', 1 / 3, '1 2 3 4 | 1 2 3 4 and (sing on "a")', 8 - 1 / 3],
  ['3/4', 'none', '3', null, 0, '1 2 3 | (sing)', 3],
  ['3/4', 'a half beat', '3', '1/2', 0.5, '1 2 3 | 1 2 3 (sing on "and")', 5.5],
  ['3/4', 'one beat', '3', '1', 1, '1 2 3 | 1 2 (sing)', 5],
  ['3/4', 'two beats', '3', '2', 2, '1 2 3 | 1 (sing)', 4],
  ['6/8', 'none', '3', null, 0, '1 2 | (sing)', 3],
  ['6/8', 'an eighth', '3', '1/2', 0.5, '1 2 | 1 2 and (sing on "a")', 5.5],
  ['6/8', 'two eighths', '3', '1', 1, '1 2 | 1 2 (sing on "and")', 5],
  ['6/8', 'one felt beat', '3', '3/2', 1.5, '1 2 | 1 (sing)', 4.5],
  ['6/8', 'a felt beat and an eighth', '3', '2', 2, '1 2 | 1 and (sing on "a")', 4],
  ['6/8', 'half a felt beat', '3', '3/4', 0.75, '1 2 | 1 2 (sing just after it)', 5.25],
  ['6/8', 'two felt beats are a full bar', '3', '3', 3, '1 2 | (sing)', 3],
  ['2/2', 'none', '4', null, 0, '1 2 | (sing)', 4],
  ['2/2', 'a half beat', '4', '1', 1, '1 2 | 1 2 (sing on "and")', 7],
  ['2/2', 'one beat', '4', '2', 2, '1 2 | 1 (sing)', 6],
  ['2/2', 'two beats are a full bar', '4', '4', 4, '1 2 | (sing)', 4],
  ['3/2', 'none', '6', null, 0, '1 2 3 | (sing)', 6],
  ['3/2', 'a half beat', '6', '1', 1, '1 2 3 | 1 2 3 (sing on "and")', 11],
  ['3/2', 'one beat', '6', '2', 2, '1 2 3 | 1 2 (sing)', 10],
  ['3/2', 'two beats', '6', '4', 4, '1 2 3 | 1 (sing)', 8],
  ['9/8', 'none', '9/2', null, 0, '1 2 3 | (sing)', 4.5],
  ['9/8', 'an eighth', '9/2', '1/2', 0.5, '1 2 3 | 1 2 3 and (sing on "a")', 8.5],
  ['9/8', 'one felt beat', '9/2', '3/2', 1.5, '1 2 3 | 1 2 (sing)', 7.5],
  ['9/8', 'two felt beats', '9/2', '3', 3, '1 2 3 | 1 (sing)', 6],
];

describe('The count before a song', () => {
  it.each(TABLE)('%s, pickup %s', (meter, _what, full, pickup, quarters, words, enterAt) => {
    const count = CountIn.of(song(meter, full, pickup, quarters));
    expect(count.words).toBe(words);
    expect(count.enterAt / QUARTER).toBeCloseTo(enterAt, 10);
    // The first chord falls on beat one, when the pickup is over.
    expect((count.firstChordAt - count.enterAt) / QUARTER).toBeCloseTo(quarters, 10);
  });

  it('speaks one number a beat', () => {
    const count = CountIn.of(song('4/4', '4', '1', 1));
    expect(count.counts).toEqual(['1', '2', '3', '4', '1', '2', '3']);
    expect(count.beat).toBe(QUARTER);
    expect(count.counts.length * count.beat).toBe(count.enterAt);
  });

  it('counts six in 6/8 where the tempo is given for the eighth', () => {
    const slow = CountIn.of(song('6/8', '3', '1/2', 0.5), { beat: QUARTER / 2, perMinute: 90 });
    expect(slow.words).toBe('1 2 3 4 5 6 | 1 2 3 4 5 (sing)');
  });

  it('says bar, beat, note and chord, with the speed of the counted beat', () => {
    const song44 = song('4/4', '4', '1', 1);
    expect(CountIn.of(song44, { beat: QUARTER, perMinute: 84 }).sentence).toBe(
      'Count 1 2 3 4 | 1 2 3 at 84 beats a minute: the singers enter on beat 4 of the bar before bar 1 with D4, and the first chord, G, falls on beat 1 of bar 1.',
    );
    expect(CountIn.of(song('2/2', '4', null), { beat: QUARTER, perMinute: 120 }).sentence).toBe(
      'Count 1 2 at 60 beats a minute: the singers enter on beat 1 of bar 1 with G4, and the first chord, G, falls with them.',
    );
    expect(CountIn.of(song('6/8', '3', '1/2', 0.5)).sentence).toContain(
      'the singers enter on the "a" of beat 2 of the bar before bar 1 with D4',
    );
  });

  it('lets the singers wait when their line begins with a rest', () => {
    const waiting = buildScore({
      key: 'F major',
      meter: '4/4',
      voices: { tune: 'r:1 F4:3 | F4:4' },
      chords: [[0, chord('F')]],
    });
    const count = CountIn.of(waiting);
    expect(count.words).toBe('1 2 3 4 | 1 (sing)');
    expect([count.firstChordAt, count.enterAt]).toEqual([4 * QUARTER, 5 * QUARTER]);
  });

  it('keeps the keys silent under the pickup, even where a chord was found there', () => {
    const led = buildScore({
      key: 'G major',
      meter: '3/4',
      voices: { tune: 'D4:1 | G4:3 | G4:3' },
      chords: [
        [0, chord('D7')],
        [1, chord('G')],
      ],
    });
    const found = led.chords.map((each) => ({ ...each, guess: { reason: '', others: [] } }));
    const count = CountIn.of({ ...led, chords: found });
    expect(count.firstChordAt).toBe(6 * QUARTER);
    expect(count.sentence).toContain('the first chord, G, falls on beat 1 of bar 1');
    // What a person wrote there is meant.
    expect(CountIn.of(led).firstChordAt).toBe(5 * QUARTER);
    expect(CountIn.of(led).sentence).toContain('the first chord, D7, falls with them');
  });

  it('gives a cue and no count where there is no meter', () => {
    const free = buildScore({
      key: 'E minor',
      meter: 'none',
      voices: { tune: 'E4:1 G4:1 B4:2' },
      chords: [[0, chord('Em')]],
    });
    const cue = CountIn.of(free);
    expect(cue.words).toBe('keys hold Em, breathe together (sing)');
    expect(cue.counts).toEqual([]);
    expect(cue.sentence).toBe(
      'There is no meter, so nothing is counted: the keys hold Em, with E4 on top, the leader breathes in, and all begin on E4.',
    );
  });
});
