import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { PacketMaking } from './packet-making.svelte.ts';

type Sent = { readonly url: string; readonly signal: AbortSignal | null | undefined };

/** A server that says these rows, or waits until it is stopped. */
function serverSays(rows: readonly object[] | 'nothing'): Sent[] {
  const sent: Sent[] = [];
  vi.stubGlobal('fetch', async (url: string, { signal }: RequestInit) => {
    sent.push({ url, signal });
    if (rows !== 'nothing')
      return new Response(rows.map((row) => `${JSON.stringify(row)}\n`).join(''));
    return new Promise((_, reject) =>
      signal?.addEventListener('abort', () => reject(new DOMException('stopped', 'AbortError'))),
    );
  });
  return sent;
}

describe('Having a packet made', () => {
  beforeEach(() => localStorage.clear());
  afterEach(() => vi.unstubAllGlobals());

  it('has the browser keep the file once it stands ready', async () => {
    const sent = serverSays([{ done: 0, of: 2 }, { done: 2, of: 2 }, { bytes: 9 }]);
    const kept: string[] = [];
    const making = new PacketMaking({ service: 's' }, (address) => kept.push(address));
    making.choose({ paper: 'Letter', print: 'large' });
    making.names.choose('german');
    await making.make('m', { verse: 2, played: 'a.C' });
    const address =
      '/api/services/s/packets/m?paper=Letter&print=large&names=german&verse=2&played=a.C';
    expect(sent.map(({ url }) => url)).toEqual([address]);
    expect(kept).toEqual([address]);
    expect([making.progress, making.trouble]).toEqual([null, '']);
  });

  it('makes everybody’s, and one by a set link', async () => {
    const sent = serverSays([{ bytes: 9 }]);
    await new PacketMaking({ service: 's' }, () => undefined).make(null);
    await new PacketMaking({ link: 'l' }, () => undefined).make('m');
    expect(sent.map(({ url }) => url.split('?')[0])).toEqual([
      '/api/services/s/packets',
      '/api/set/l/packets/m',
    ]);
  });

  it('says what went wrong, also where the connection broke, and keeps nothing', async () => {
    const kept: string[] = [];
    const making = new PacketMaking({ service: 's' }, (address) => kept.push(address));
    serverSays([{ done: 0, of: 2 }, { problem: { detail: 'Many packets are being made.' } }]);
    await making.make(null);
    expect(making.trouble).toBe('Many packets are being made.');
    serverSays([{ done: 1, of: 2 }]);
    await making.make(null);
    expect(making.trouble).toMatch(/^The connection broke/);
    expect(kept).toEqual([]);
  });

  it('stops where it is told to, and can begin again', async () => {
    const sent = serverSays('nothing');
    const making = new PacketMaking({ service: 's' }, () => undefined);
    const made = making.make(null);
    expect(making.progress).toEqual({ done: 0, of: 0 });
    making.cancel();
    await made;
    expect(sent[0]?.signal?.aborted).toBe(true);
    expect([making.progress, making.trouble]).toEqual([null, '']);
    expect(making.said).toMatch(/^Stopped/);
  });

  it('remembers paper and print on this device', () => {
    new PacketMaking({ service: 's' }).choose({ paper: 'Letter', print: 'large' });
    const next = new PacketMaking({ service: 't' });
    expect([next.paper, next.print]).toEqual(['Letter', 'large']);
  });
});
