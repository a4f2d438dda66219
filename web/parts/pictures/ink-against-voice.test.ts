import { readFileSync } from 'node:fs';
import { mount, unmount } from 'svelte';
import { afterEach, describe, expect, it } from 'vitest';
import { Abc, KeyFit, Pitches, type Key, type OctaveChoice, type Singer } from '#music';
import InkAgainstVoice from './InkAgainstVoice.svelte';
import { drawVerse, pointed, type VersesInk } from './ink-against-voice.ts';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const score = read.ok ? read.value[0] : undefined;
if (!score) throw new Error('the hymn is there');
const G: Key = { tonic: 'G', mode: 'major' };

function verse(singer: Singer, key = G, octave?: OctaveChoice): VersesInk {
  const octaves = octave ? { [singer.id]: octave } : undefined;
  const found = KeyFit.demands(score as NonNullable<typeof score>, { tempo: null })(singer, key, octaves); // prettier-ignore
  const { notes = [] } = found ?? {};
  const sharps = key.tonic === 'G' ? 1 : -1;
  return { notes, bars: score?.bars ?? [], comfortable: singer.comfortable, signature: sharps };
}
const RUTH: Singer = { id: 'r', name: 'Ruth', comfortable: { low: 'A3', high: 'C5' } };
const all = (width: number, of = verse(RUTH)) =>
  drawVerse(of, width).systems.flatMap(({ notes }) => notes);

describe('one verse against a voice', () => {
  it('every note is drawn as long as it is held, on as many staves as it needs', () => {
    const narrow = drawVerse(verse(RUTH), 350);
    expect(narrow.systems.length).toBeGreaterThan(2);
    expect(drawVerse(verse(RUTH), 1100).systems.length).toBeLessThan(narrow.systems.length);
    const [first, second] = all(1100);
    // A pickup of one quarter, then two.
    expect(((second?.width ?? 0) + 3) / ((first?.width ?? 1) + 3)).toBeCloseTo(2, 1);
    // No piece is wider than the page, and none ends beyond it.
    for (const { x, width } of all(350)) expect(x + width).toBeLessThanOrEqual(350);
  });

  it('a note over a bar line goes on in the next bar', () => {
    const begun = verse(RUTH).notes.length;
    const held = verse(RUTH).notes.filter(
      ({ at, length }) =>
        score.bars.filter((bar) => bar.at < at + length && bar.at + bar.length > at).length > 1,
    ).length;
    expect(all(1100)).toHaveLength(begun + held);
  });

  it('what lies outside has its place and its name, and the band ends under it', () => {
    const drawn = drawVerse(verse(RUTH), 1100);
    const notes = drawn.systems.flatMap((system) => system.notes);
    const outside = notes.filter(({ place }) => place === 'above');
    expect(outside.length).toBeGreaterThan(0);
    expect(new Set(outside.map(({ name }) => name))).toEqual(new Set(['D5', '']));
    const band = drawn.systems[0]?.bands[0];
    for (const { y } of outside) expect(y).toBeLessThan(band?.top ?? 0);
    for (const { y } of notes.filter(({ place }) => place === 'inside'))
      expect(y).toBeGreaterThan(band?.top ?? 999);
  });

  it('names of notes outside keep clear of each other, and the furthest has one', () => {
    const low: Singer = { id: 'l', name: 'Low', comfortable: { low: 'A3', high: 'E4' }, reads: 'as written' }; // prettier-ignore
    for (const width of [320, 480, 1100]) {
      for (const { notes } of drawVerse(verse(low), width).systems) {
        const names = notes.filter(({ name }) => name !== '').map(({ x }) => x);
        names.slice(1).forEach((x, i) => {
          expect(x - (names[i] ?? 0)).toBeGreaterThanOrEqual(32);
        });
      }
    }
    expect(all(1100, verse(low)).some(({ name }) => name === 'D5')).toBe(true);
  });

  it('sung an octave below it stands where it is printed, and the band with it', () => {
    const tomas: Singer = { id: 't', name: 'Tomas', comfortable: { low: 'A2', high: 'C4' } };
    const [up, down] = [drawVerse(verse(RUTH), 900), drawVerse(verse(tomas), 900)];
    expect(down.systems[0]?.notes.map(({ y }) => y)).toEqual(
      up.systems[0]?.notes.map(({ y }) => y),
    );
    expect(down.systems[0]?.bands.map(({ below }) => below)).toEqual([true]);
    expect(down.systems[0]?.bands[0]?.top).toBe(up.systems[0]?.bands[0]?.top);
  });

  it('breaths stand after three of four lines; the last has none to come', () => {
    expect(all(1100).filter(({ breath }) => breath)).toHaveLength(3);
  });

  it('signs stand only where the signature has none', () => {
    expect(all(1100).filter(({ sign }) => sign !== '')).toEqual([]);
    const flat = { ...verse(RUTH), signature: 0 };
    const sharps = verse(RUTH).notes.filter(({ pitch }) => Pitches.requirePitch(pitch).alter !== 0);
    expect(sharps).toEqual([]);
    expect(all(1100, flat).filter(({ sign }) => sign !== '')).toEqual([]);
    const wrong = { ...verse(RUTH), signature: 2 };
    expect(all(1100, wrong).filter(({ sign }) => sign === '♮')).toEqual([]);
    const three = { ...verse(RUTH), signature: 3 };
    expect(new Set(all(1100, three).map(({ sign }) => sign))).toEqual(new Set(['', '♮']));
  });

  it('outside is another shape, not another colour alone', () => {
    expect(pointed({ x: 10, y: 20, width: 40 })).toBe('M10 20L15 15.5H45L50 20L45 24.5H15Z');
  });
});

describe('for who hears the page', () => {
  let shown: object | undefined;
  afterEach(() => {
    if (shown) void unmount(shown);
    shown = undefined;
    document.body.innerHTML = '';
  });

  it('a table has each note outside or at an end, with bar and beats', () => {
    shown = mount(InkAgainstVoice, {
      target: document.body,
      props: { ...verse(RUTH), name: 'Ruth' },
    });
    const rows = [...document.querySelectorAll('tbody tr')].map((row) =>
      [...row.querySelectorAll('td')].map((cell) => cell.textContent.trim()),
    );
    expect(rows).toContainEqual(['7', 'D5', 'five beats', 'above']);
    expect(rows).toHaveLength(verse(RUTH).notes.filter(({ place }) => place !== 'inside').length);
  });
});
