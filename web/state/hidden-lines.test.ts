import { beforeEach, describe, expect, it, vi } from 'vitest';
import { HiddenOnDevice } from './hidden-lines.svelte.ts';

beforeEach(() => localStorage.clear());

describe('lines that are hidden on this device', () => {
  it('stay hidden the next time, until all are shown again', () => {
    const lines = new HiddenOnDevice();
    lines.hide('arm');
    expect([lines.has('arm'), lines.has('foot')]).toEqual([true, false]);
    const later = new HiddenOnDevice();
    expect(later.has('arm')).toBe(true);
    later.showAll();
    expect(new HiddenOnDevice().has('arm')).toBe(false);
  });

  it('are hidden for as long as the page is open where nothing can be kept', () => {
    const refuse = (): never => {
      throw new Error('not here');
    };
    vi.stubGlobal('localStorage', { getItem: refuse, setItem: refuse });
    const lines = new HiddenOnDevice();
    lines.hide('arm');
    expect(lines.has('arm')).toBe(true);
    expect(new HiddenOnDevice().has('arm')).toBe(false);
    vi.unstubAllGlobals();
  });

  it('nothing is hidden where what was kept cannot be read', () => {
    localStorage.setItem('partbook.hidden-lines', '{"arm":');
    expect(new HiddenOnDevice().has('arm')).toBe(false);
  });
});
