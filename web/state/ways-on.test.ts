import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { item, ServiceServer } from '#test/support/service-server.ts';
import { notices } from './notice.svelte.ts';
import { ServicePage } from './service.svelte.ts';
import { WaysOn } from './ways-on.svelte.ts';

let page: ServicePage;
beforeEach(async () => {
  const server = new ServiceServer();
  const songs = [
    item('p', { song: 'grace', key: { tonic: 'C', mode: 'major' } }),
    item('q', { song: 'grace', key: { tonic: 'C', mode: 'major' } }),
    item('r', { song: 'grace', key: { tonic: 'G', mode: 'major' } }),
  ];
  server.service = { ...server.service, items: songs };
  vi.stubGlobal('fetch', server.fetch);
  page = new ServicePage('x');
  await page.load();
});
afterEach(() => {
  notices.dismiss();
  vi.unstubAllGlobals();
});

const lineOf = (id: string) => {
  const found = page.items.find((each) => each.id === id);
  return found ? new WaysOn(page).lineOf(found) : null;
};

describe('The line between two songs', () => {
  it('names both keys, and one where it stays', () => {
    expect(lineOf('q')).toMatchObject({
      keys: 'C → G',
      said: 'From C to G',
      words: 'no way chosen',
    });
    expect(lineOf('p')).toMatchObject({ keys: 'stays in C', said: 'Stays in C' });
    expect(lineOf('r')).toBeNull();
  });
});
