import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { readKey, type Key } from '../pitch/key.ts';
import { midiOf } from '../pitch/pitch.ts';
import { QUARTER, type Score } from '../score/score.ts';
import type { ArrangedPass } from '../parts/arrangement.ts';
import { layOut } from '../parts/laid-out.ts';
import { sayComesFrom, sayLinkToSingers } from '../parts/link/link-words.ts';
import { build } from '../parts/parts.ts';
import { say } from '../pitch/chord-symbol.ts';
import { says } from '../pitch/says.ts';
import { ofSong } from './lengths.ts';
import {
  comesFrom,
  heard,
  neighboursAt,
  onwardAt,
  sayOnward,
  withOnward,
  type OrderedItem,
} from './onward.ts';

const GRACE = hymn('Amazing_Grace-New_Britain.abc');
const key = (text: string): Key => readKey(text) as Key;

const song = (
  tonic: string,
  { wayOn = null, title = '', score = GRACE, perMinute = 80, form = null }: Partial<Asked> = {},
): OrderedItem => ({
  kind: 'song',
  title,
  wayOn,
  song: {
    score,
    arrangement: { key: key(tonic), tempo: { beat: QUARTER, perMinute }, density: 'bar', form },
  },
});
interface Asked {
  readonly wayOn: OrderedItem['wayOn'];
  readonly title: string;
  readonly score: Score;
  readonly perMinute: number;
  readonly form: readonly ArrangedPass[] | null;
}
const spoken = (kind: OrderedItem['kind'], title = ''): OrderedItem => ({
  kind,
  title,
  wayOn: null,
  song: null,
});
const UNTIMED: Score = { ...GRACE, untimed: true, chords: [] };

const kindsAt = (items: readonly OrderedItem[], at = 0): string[] => {
  const found = neighboursAt(items, at);
  return typeof found === 'string' ? [found] : found.ways.map(({ kind }) => kind);
};

describe('The way from song to song in an order', () => {
  it('is said with its chords, and how the beat goes over', () => {
    const items = [song('C', { wayOn: 'common chord' }), song('G', { perMinute: 60 })];
    expect(sayOnward(items, 0)).toBe(
      'then by Am and D7, common chord, into G; 80 to 60: four of the old beats last as long as three of the new',
    );
    expect(sayOnward(items, 1)).toBe('');
    expect(sayOnward([song('C'), song('G')], 0)).toBe('');
  });

  it('is a loop or none over what is spoken', () => {
    const items = [song('C', { wayOn: 'loop' }), spoken('reading'), spoken('prayer'), song('G')];
    expect(kindsAt(items)).toEqual(['loop']);
    expect(sayOnward(items, 0)).toBe(
      'then under the reading and the prayer: C and F over and over, then D7, into G; the beat stays',
    );
    expect(onwardAt(items, 0)?.spoken).toBe('the reading and the prayer');
  });

  it('that is not there any more is said, and nobody plays it', () => {
    const items = [song('F', { wayOn: 'common chord' }), song('B')];
    expect(sayOnward(items, 0)).toBe(
      'no common chord between F and B any more; choose another way',
    );
    expect(onwardAt(items, 0)).toBeNull();
    const apart = [song('F', { wayOn: 'dominant' }), spoken('prayer'), song('G')];
    expect(sayOnward(apart, 0)).toBe(
      'the prayer stands between now, so there is no dominant any more; choose another way',
    );
    expect(sayOnward([song('F', { wayOn: 'straight on' }), song('G')], 0)).toBe(
      'F and G are two keys now: not straight on any more; choose another way',
    );
  });

  it('waits where no song follows, and says what has no key', () => {
    expect(sayOnward([song('F', { wayOn: 'dominant' }), spoken('talk')], 0)).toBe(
      'no song follows any more, so the dominant waits for one',
    );
    const gone: OrderedItem = { kind: 'song', title: 'Nicaea', wayOn: null, song: null };
    expect(sayOnward([song('F', { wayOn: 'dominant' }), gone], 0)).toBe(
      '“Nicaea” is not in the book, so there is no key to lead to or from.',
    );
    const words = song('G', { title: 'Words', score: UNTIMED });
    expect(kindsAt([song('F'), words])).toEqual([
      '“Words” has words alone, so there is no key to lead to or from.',
    ]);
  });

  it('goes from the key that the last pass ends in', () => {
    const form = GRACE.form.map((pass, i, { length }) =>
      i === length - 1 ? { ...pass, up: 2 } : pass,
    );
    const items = [song('F', { form, wayOn: 'straight on' }), song('G')];
    expect(sayOnward(items, 0)).toBe('then straight on in G; the beat stays');
  });

  it('is told at the head of the next song', () => {
    const items = [song('C', { wayOn: 'dominant', title: 'Grace' }), spoken('talk'), song('G')];
    expect(comesFrom(items, 2)).toBeNull();
    const found = comesFrom([...items.slice(0, 1), ...items.slice(2)], 1);
    expect(found).toEqual({ title: 'Grace', key: key('C'), kind: 'dominant' });
    expect(sayComesFrom(found ?? undefined)).toBe('comes from “Grace” in C, by the dominant');
  });

  it('is heard from the one key to the other, low notes first, nothing wider than a hand', () => {
    const found = neighboursAt([song('C'), song('G')], 0);
    if (typeof found === 'string') throw new Error(found);
    for (const way of found.ways) {
      const chords = heard(way, found.from, found.to);
      expect(chords).toHaveLength(way.chords.length + 2);
      for (const [bass = '', ...hand] of chords) {
        const keys = hand.map(midiOf);
        expect(Math.max(...keys) - Math.min(...keys)).toBeLessThanOrEqual(14);
        expect(midiOf(bass)).toBeLessThan(Math.min(...keys));
      }
    }
  });
});

describe('Bars that lead on', () => {
  const laid = (items: readonly OrderedItem[]) => {
    const [first] = withOnward(items);
    if (!first?.song) throw new Error('a song');
    const found = layOut(first.song.score, first.song.arrangement);
    if (!found.ok) throw new Error(JSON.stringify(found.problems));
    return { ...found.value, song: first.song };
  };

  it('count in the length of the song: two bars of three at 80 and the beat that fills the last are 5.25 seconds', () => {
    const items = [song('C', { wayOn: 'common chord' }), song('G')];
    const [with_, without] = [withOnward(items), items].map(([first]) =>
      first?.song ? ofSong(first.song.score, first.song.arrangement) : null,
    );
    expect((with_?.seconds ?? 0) - (without?.seconds ?? 0)).toBeCloseTo((7 * 60) / 80);
    expect(with_?.words).toContain('the introduction and the bars on to the next song included');
  });

  it('are a section of their own after the last bar, and stand in the order', () => {
    const { whole, order } = laid([
      song('C', { wayOn: 'common chord' }),
      song('G', { title: 'Hyfrydol' }),
    ]);
    expect(whole.sections.at(-1)).toMatchObject({ id: 'onward', name: 'On to “Hyfrydol” in G' });
    expect(whole.bars.slice(-3).map(({ number, length }) => [number, length / QUARTER])).toEqual([
      [16, 1],
      [17, 3],
      [18, 3],
    ]);
    expect(whole.bars.filter(({ line }) => line === 'final')).toEqual([]);
    expect(order).toMatch(/; then Am and D7, on to “Hyfrydol” in G$/);
  });

  it('call the key as the player calls notes, in their name and in the order', () => {
    // B is H in German (LilyPond’s `deutsch`, see test/reference/note-names.test.ts).
    const items = withOnward([
      song('E', { wayOn: 'dominant', title: 'Grace' }),
      song('B', { title: 'Hyfrydol' }),
    ]);
    const [first] = items;
    if (!first?.song) throw new Error('no song');
    const found = layOut(first.song.score, first.song.arrangement, says('german'));
    if (!found.ok) throw new Error(JSON.stringify(found.problems));
    expect(found.value.whole.sections.at(-1)?.name).toBe('On to “Hyfrydol” in H');
    expect(found.value.order).toMatch(/; then Fis7, on to “Hyfrydol” in H$/);
    expect(sayLinkToSingers(found.value.link, [], says('german'))).toMatch(/in H$/);
  });

  it('of a loop stand once, between repeat signs', () => {
    const { whole } = laid([song('C', { wayOn: 'loop' }), spoken('prayer'), song('G')]);
    const loop = whole.sections.find(({ kind }) => kind === 'vamp');
    expect(loop?.loop?.cue).toBe('the prayer is over');
    expect(
      whole.bars.slice(-3).map(({ repeatStart, repeatEnd }) => [repeatStart, repeatEnd]),
    ).toEqual([
      [true, false],
      [false, true],
      [false, false],
    ]);
  });

  it('that are read in another key are written in it', () => {
    const [first] = withOnward([song('D', { wayOn: 'dominant' }), song('A')]);
    if (!first?.song) throw new Error('a song');
    const { score, arrangement } = first.song;
    // By the button two half steps up: E7 before A is read as D7.
    const read = layOut(score, { ...arrangement, key: key('C') });
    expect(read.ok && read.value.whole.chords.at(-1)?.chord).toMatchObject({ root: 'D' });
  });

  it('begin with a chord of their own, in the key of a raised last verse, and say no step down', () => {
    const form = GRACE.form.map((pass, i, { length }) =>
      i === length - 1 ? { ...pass, up: 2 } : pass,
    );
    const [first] = withOnward([song('F', { wayOn: 'loop', form }), song('D')]);
    if (!first?.song) throw new Error('a song');
    const { score, arrangement } = first.song;
    const player = { id: 'p', name: 'Ines', role: 'keys', level: 'beginner', reach: 12 } as const;
    const built = build(score, arrangement, player, { roles: ['keys'] });
    if (!built.ok) throw new Error(JSON.stringify(built.problems));
    const { score: played, directions } = built.value;
    const loop = played.sections.find(({ kind }) => kind === 'vamp');
    // The last verse ends on G, and the loop begins with it.
    const chords = played.chords.filter(({ at }) => at >= (loop?.from ?? Infinity));
    expect(chords.map(({ chord }) => chord && say(chord))).toEqual(['G', 'C', 'A7']);
    const words = directions.find(({ section }) => section === loop?.id)?.words ?? [];
    expect(words.join('; ')).toBe(
      'a rest fills the last bar; G and C, softly, as long as somebody speaks, then A7; repeat softly until: nobody speaks any more',
    );
  });
});
