import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { songOf } from '#test/support/small-abc.ts';
import { QUARTER, type Score, type Tempo } from '../score/score.ts';
import { of as countIn } from '../score/count-in.ts';
import { barAt } from '../score/time.ts';
import { headingOf } from '../sheet/sheet.ts';
import type { Player } from './arrangement.ts';
import { changesOf } from './changes.ts';
import { planHands } from './hands-plan.ts';
import { build } from './parts.ts';
import { instead as insteadOf } from './summary-words.ts';

const INES: Player = { id: 'ines', name: 'Ines', role: 'keys', level: 'beginner', reach: 12 };

function partOf(score: Score, tempo: Tempo | null = null) {
  const key = score.keys[0]?.key;
  if (!key) throw new Error('no key');
  const built = build(score, { key, tempo, density: 'bar' }, INES, { roles: [] });
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

describe('the count before an introduction', () => {
  it.each([
    [
      'Amazing_Grace-New_Britain.abc',
      'count 1 2 3 | (play)',
      'sing after 1 2, on beat 3 of the introduction’s last bar',
    ],
    [
      'Silent_Night-Stille_Nacht.abc',
      'count 1 2 3 | (play)',
      'sing after the introduction’s last bar, on beat 1 of bar 1',
    ],
  ])('%s: %s, and %s', (file, count, entry) => {
    const part = partOf(hymn(file));
    expect(part.countIn).toBe(count);
    expect(part.introduction).toContain(`; ${entry}; `);
  });

  it('stays the singers’ where there is no introduction', () => {
    const short = songOf('"C"cdef|]', []);
    expect(partOf(short).countIn).toBe('count 1 2 3 4 | (sing)');
  });
});

describe('the tempo of the heading', () => {
  const compound = (head: string) => songOf('"C"c6|"G"B6|"C"c6|"G"B6|"C"c6|', [], head);
  it.each([
    ['M:6/8\nL:1/8\nQ:1/4=100', { note: 'quarter', dots: 1, perMinute: 67 }],
    ['M:6/8\nL:1/8\nQ:1/8=150', { note: 'eighth', dots: 0, perMinute: 150 }],
    ['M:6/8\nL:1/8\nQ:3/8=50', { note: 'quarter', dots: 1, perMinute: 50 }],
  ])('%j is said in the beat that is counted: %j', (head, tempo) => {
    const score = compound(head);
    const heading = headingOf(partOf(score), INES);
    expect(heading.tempo).toEqual(tempo);
    const ticks = { quarter: QUARTER, eighth: QUARTER / 2 }[tempo.note] ?? 0;
    expect(countIn(score).beat).toBe(ticks * (tempo.dots ? 1.5 : 1));
  });

  it('Blessed Assurance, 9/8 at 100 quarters, is about 67 dotted quarters', () => {
    const score = hymn('Blessed_Assurance-Blessed_Assurance-Assurance.abc');
    const part = partOf(score);
    expect(headingOf(part, INES).tempo).toEqual({ note: 'quarter', dots: 1, perMinute: 67 });
    expect(part.practice[0]).toContain('at 67 a minute');
  });
});

describe('how far the part is enough', () => {
  it('says that it is enough where it is', () => {
    expect(partOf(hymn('Silent_Night-Stille_Nacht.abc')).summary).toMatch(
      /; all of it enough for Sunday$/,
    );
  });

  it('names what asks most where it is not, and what is still right instead', () => {
    const { summary } = partOf(hymn('Amazing_Grace-New_Britain.abc'), {
      beat: QUARTER,
      perMinute: 140,
    });
    expect(summary).not.toContain('enough');
    expect(summary).toMatch(
      /; what asks most: bar 4, from C to G in one beat; if it comes too fast, leave G to the left hand: still right$/,
    );
  });

  it.each([
    // Over the C major of bar 3 a sung C belongs to F major too; an E does not.
    ['"C"c4|"C"c3 "F"c|"C"c4|"C"c4|]', 'hold F on in bar 3'],
    ['"C"c4|"C"c3 "F"c|"C"e4|"C"c4|]', 'leave C to the left hand'],
  ])('%s: %s', (music, instead) => {
    const song = songOf(music);
    const plan = planHands(song, INES);
    const changes = plan.ok ? changesOf(song, plan) : [];
    const back = changes.find(({ after }) => barAt(song, after.from).number === 3);
    expect(back && insteadOf(song, back)).toBe(instead);
  });
});
