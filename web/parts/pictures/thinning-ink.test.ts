import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Abc, Keys, Room, type RoomShares } from '#music';
import { drawInk, noteAfter, type InkNote } from './thinning-ink.ts';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const score = read.ok ? read.value[0] : undefined;
if (!score) throw new Error('the hymn is there');

function notesIn(tonic: string, room: RoomShares = Room.USUAL_ROOM): InkNote[] {
  const key = Keys.readKey(tonic);
  if (!key || !score) throw new Error(`no key ${tonic}`);
  return Room.notesIn(score, key, room).map((note) => ({ ...note, word: '' }));
}

const drawnNotes = (notes: readonly InkNote[], width = 480) =>
  drawInk(notes, 1, width).systems.flatMap((system) => system.notes);

describe('The ink of a tune', () => {
  it('stands once for each note, in order, and nowhere beyond the width', () => {
    const notes = notesIn('G');
    for (const width of [320, 480, 1100]) {
      const drawn = drawInk(notes, 1, width);
      const all = drawn.systems.flatMap((system) => system.notes);
      expect(all.map(({ index }) => index)).toEqual(notes.map((_, i) => i));
      for (const { bar } of all) expect(bar.x + bar.width).toBeLessThanOrEqual(width);
    }
  });

  it('breaks at bar lines, into systems of much the same length', () => {
    const notes = notesIn('G');
    const { systems } = drawInk(notes, 1, 480);
    expect(systems.length).toBeGreaterThan(1);
    for (const [i, system] of systems.entries()) {
      const [before, first] = [systems[i - 1]?.notes.at(-1), system.notes[0]];
      if (before && first) expect(notes[before.index]?.bar).not.toBe(notes[first.index]?.bar);
    }
    const counts = systems.map((system) => system.notes.length);
    expect(Math.min(...counts)).toBeGreaterThan(Math.max(...counts) / 3);
  });

  it('thins with the share of the room, and the bar under it is as high', () => {
    const notes = notesIn('G');
    const drawn = drawInk(notes, 1, 480);
    const everybody = drawn.floor - drawn.ceiling;
    for (const note of drawn.systems.flatMap((system) => system.notes)) {
      const share = notes[note.index]?.share ?? -1;
      expect(note.share).toBe(share);
      expect(note.bar.height).toBeCloseTo(share * everybody, 6);
      expect(note.bar.y + note.bar.height).toBeCloseTo(drawn.floor, 6);
    }
    // The same notes for children alone: another picture.
    const others = drawnNotes(notesIn('G', { children: 1 }));
    expect(others.map(({ bar }) => bar.height)).not.toEqual(
      drawnNotes(notes).map(({ bar }) => bar.height),
    );
  });

  it('has its figure where the fewest sing, once where such a note is sung again at once', () => {
    const notes = notesIn('G');
    const least = Math.min(...notes.map(({ share }) => share));
    const all = drawnNotes(notes);
    expect(all.some(({ figure }) => figure)).toBe(true);
    for (const [i, { index, figure, isThinnest }] of all.entries()) {
      expect(isThinnest).toBe(notes[index]?.share === least);
      if (figure) expect([isThinnest, all[i - 1]?.isThinnest ?? false]).toEqual([true, false]);
    }
  });

  it('stands on the lines of its pitches, with ledgers and the signs that the key does not have', () => {
    const at = { at: 0, length: 20160, bar: 1, felt: 241_920, share: 1, word: '' };
    const pitches = ['E4', 'F5', 'C4', 'F#4', 'F4', 'F4', 'A5'];
    const drawn = drawInk(
      pitches.map((pitch, i) => ({ ...at, at: i * 20160, pitch })),
      1,
      800,
    );
    const all = drawn.systems.flatMap(({ notes }) => notes);
    expect(all[0]?.y).toBe(drawn.lines[0]);
    expect(all[1]?.y).toBe(drawn.lines[4]);
    expect(all.map(({ ledgers }) => ledgers.length)).toEqual([0, 0, 1, 0, 0, 0, 1]);
    // One sharp: the high F is natural, the low one as signed, then naturalised once for its bar.
    expect(all.map(({ sign }) => sign)).toEqual(['', '♮', '', '', '♮', '', '']);
  });

  it('gives words room', () => {
    const [first, second, ...others] = notesIn('G');
    if (!first || !second) throw new Error('no notes');
    const width = (word: string) =>
      drawnNotes([{ ...first, word }, second, ...others], 1100)[0]?.bar.width ?? 0;
    expect(width('immeasurably-')).toBeGreaterThan(2 * width('A-'));
  });

  it('leaves a gap between words, the widest of all and those of a hymn, at any width', () => {
    // Advance widths in px at 15 px (the size of notes), as Chromium measures the regular of Source Serif 4.
    const MEASURED: Readonly<Record<string, number>> = {
      sound: 43.86, That: 32.6, How: 33.14, 'grace-': 44.06, wretch: 49.88, 'immeasurably-': 107.89, mmm: 42.98,
      WWW: 45.24, MMMM: 56.12, wwww: 50.16, HHH: 36.63, nnnnn: 48.25, ill: 14.82,
    }; // prettier-ignore
    const words = Object.keys(MEASURED);
    const notes = notesIn('G').map((note, i) => ({ ...note, word: words[i % words.length] ?? '' }));
    for (const width of [320, 480, 672]) {
      for (const { notes: drawn, end } of drawInk(notes, 1, width).systems) {
        drawn.forEach(({ word, bar }, i) => {
          const next = drawn[i + 1]?.bar.x ?? Math.max(end, width) + 5;
          expect(next - bar.x, `${word} at ${width}`).toBeGreaterThan((MEASURED[word] ?? 0) + 4);
        });
      }
    }
  });

  it('breaks a bar that is wider than the room, with no bar line there', () => {
    const at = { at: 0, length: 20160, bar: 1, felt: 241_920, share: 1 };
    const long = Array.from({ length: 12 }, (_, i) => ({ ...at, at: i * 20160, pitch: 'G4', word: 'mmm-' })); // prettier-ignore
    const { systems } = drawInk(long, 0, 320);
    expect(systems.length).toBeGreaterThan(1);
    expect(systems.map(({ barLines }) => barLines.length)).toEqual([...systems.slice(1).map(() => 0), 1]); // prettier-ignore
    for (const { end } of systems) expect(end).toBeLessThanOrEqual(320);
  });

  it('is gone along with the arrows, Home and End', () => {
    expect(noteAfter('ArrowRight', 3, 5)).toBe(4);
    expect(noteAfter('ArrowRight', 4, 5)).toBe(4);
    expect(noteAfter('ArrowLeft', 0, 5)).toBe(0);
    expect([noteAfter('Home', 3, 5), noteAfter('End', 3, 5), noteAfter('a', 3, 5)]).toEqual([
      0,
      4,
      null,
    ]);
  });
});
