import { describe, expect, it } from 'vitest';
import { blank } from '../editing/blank.ts';
import { hasTitle, titled } from './titled.ts';

const song = (title: string) =>
  blank({ title, key: { tonic: 'C', mode: 'major' }, meter: { beats: 4, unit: 4 }, bars: 1 });

describe('A song goes in under a title', () => {
  it.each([
    ['its own', 'Evening', 'lamp.mid', 'Evening'],
    ['its file’s', '', 'lamp.mid', 'lamp'],
    ['its file’s, without folders, low lines and the ending', '', 'hymns/a.b/The_Evening__Lamp.musicxml', 'The Evening Lamp'], // prettier-ignore
    ['its file’s, which has dots', '', 'No. 12, Lamp.abc', 'No. 12, Lamp'],
    ['its file’s, where its own is nothing but blanks', ' \t ', 'lamp.abc', 'lamp'],
    ['none, said so, where it has no name at all', '', '', 'Without a title'],
    ['none, said so, where its file has nothing but an ending', '', 'hymns/.mid', 'Without a title'], // prettier-ignore
  ])('%s', (_, own, file, title) => {
    const score = titled(song(own), file);
    expect(score.facts.title).toBe(title);
    expect(hasTitle(score)).toBe(true);
  });
});
