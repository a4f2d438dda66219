import { readFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Abc, KeyFinding, Keys, type Key } from '#music';
import type { Arrangement } from '#server/contract/arrangements.ts';
import { SongPage } from './song.svelte.ts';

/** Two sharps over E: E dorian, or E minor under the signature of another key; the source leaves the doubt. */
const read = Abc.read(readFileSync('seed-data/hymns/What_Child_Is_This-Greensleeves.abc'));
const scores = read.ok ? read.value : [];
const score = scores[0];
if (!score) throw new Error('the hymn is there');

const E_MINOR: Key = { tonic: 'E', mode: 'minor' };
const written = score.keys[0]?.key ?? E_MINOR;

/** Songs and their arrangements as the server keeps them: versions count, and an answered key carries the arrangement. */
class Server {
  key: Key | null = null;
  songVersion = 1;
  arrangement: Arrangement = {
    id: 'a',
    songId: 's',
    version: 1,
    key: written,
    tempo: null,
    density: 'bar',
    form: null,
    lead: null,
    singers: [],
    player: null,
  };
  refused: number[] = [];
  broken = false;

  fetch = async (path: string, init: RequestInit): Promise<Response> => {
    await Promise.resolve();
    if (init.method === 'PATCH') {
      const change = JSON.parse(init.body as string) as { key?: Key | null };
      const refusal = this.#patch(path, new Headers(init.headers).get('if-match'), change);
      if (refusal) {
        this.refused.push(refusal);
        return Response.json({ code: 'refused', detail: 'No.' }, { status: refusal });
      }
    }
    return Response.json(path.endsWith('/arrangement') ? this.arrangement : this.#song());
  };

  #patch(path: string, version: string | null, change: { key?: Key | null }): number | null {
    if (this.broken) return 503;
    const { key } = change;
    if (!path.endsWith('/arrangement')) {
      if (version !== `"v${this.songVersion}"`) return 412;
      this.songVersion += 1;
      this.key = key ?? null;
      this.#carry(key ?? written);
      return null;
    }
    if (key && key.mode !== (this.key ?? written).mode) return 422;
    if (version !== `"v${this.arrangement.version}"`) return 412;
    this.#carry(key ?? this.arrangement.key, change);
    return null;
  }

  #carry(key: Key, change: object = {}): void {
    const version = this.arrangement.version + 1;
    this.arrangement = { ...this.arrangement, ...change, key, version };
  }

  #song(): object {
    const answered = this.key && score ? KeyFinding.answer(score, this.key) : score;
    const answers = { key: this.key };
    return { id: 's', version: this.songVersion, score: answered, answers, corrections: [] };
  }
}

let server: Server;
let page: SongPage;
beforeEach(async () => {
  server = new Server();
  vi.stubGlobal('fetch', server.fetch);
  page = new SongPage('s');
  await page.load();
});
afterEach(() => vi.unstubAllGlobals());

const shown = () => (page.key ? Keys.writeKey(page.key) : null);

describe('The key of a song', () => {
  it('was read with a doubt, and not as E minor', () => {
    expect(score.keys[0]?.sure).toBe(false);
    expect(written).not.toEqual(E_MINOR);
  });

  it('can be chosen after the doubt is answered: the arrangement was carried along', async () => {
    await page.answer(E_MINOR);
    expect(shown()).toBe('E minor');
    page.step(-2);
    await page.saver?.retry();
    expect(server.refused).toEqual([]);
    expect(shown()).toBe('D minor');
    expect(server.arrangement.key).toEqual({ tonic: 'D', mode: 'minor' });
  });

  it('comes back when the answer is taken back', async () => {
    await page.answer(E_MINOR);
    await page.answer(null);
    page.step(1);
    await page.saver?.retry();
    expect(server.refused).toEqual([]);
    expect(page.key?.mode).toBe(written.mode);
  });

  it('takes along what could not be saved before, but for a key of the old mode', async () => {
    server.broken = true;
    page.arrange({ density: 'beat' });
    page.step(1);
    await page.saver?.retry();
    expect(page.saver?.state).toBe('kept');
    const once = page.answer(E_MINOR);
    server.broken = false;
    await once;
    await page.saver?.retry();
    expect(shown()).toBe('E minor');
    expect(server.arrangement).toMatchObject({ density: 'beat' });
  });

  it('stands as the server has it where the server refuses another one', async () => {
    page.arrange({ key: E_MINOR });
    await page.saver?.retry();
    expect(server.refused).toEqual([422]);
    expect(page.key).toEqual(written);
    expect(page.saver?.trouble?.message).toBe('Not saved, and put back as it was. No.');
  });

  it('that could not be saved stays on the screen when the page is fetched anew', async () => {
    server.broken = true;
    page.step(1);
    const key = shown();
    await page.saver?.retry();
    await page.load();
    expect(shown()).toBe(key);
    server.broken = false;
    await page.saver?.retry();
    expect(Keys.writeKey(server.arrangement.key)).toBe(key);
  });
});
