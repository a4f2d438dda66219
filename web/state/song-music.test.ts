import { describe, expect, it } from 'vitest';
import { measuresOf } from '#music';
import { pageWidthFor } from './song-music.svelte.ts';

describe('The width that is asked for', () => {
  it.each([340, 560, 720, 940, 1080, 1300])(
    'fills a column of %i px, less than a step short',
    (column) => {
      const { system } = measuresOf({ width: pageWidthFor(column), textScale: 0.75, verse: 1 });
      expect(system).toBeLessThanOrEqual(column);
      // Where the margin of section names comes in, the music leaps by its width.
      expect(system).toBeGreaterThan(column - 160);
    },
  );
});
