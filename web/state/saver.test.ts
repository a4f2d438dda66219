import { describe, expect, it } from 'vitest';
import type { Answer } from '#web/api/http.ts';
import { Saver } from './saver.svelte.ts';

interface Thing {
  version: number;
  name: string;
  reach: number;
}
type Change = Partial<Pick<Thing, 'name' | 'reach'>>;

const refused = (code: string, status: number): Answer<Thing> => ({
  ok: false,
  trouble: { code, status, message: code, problems: [] },
});

function saving(answers: (Answer<Thing> | null)[] = []) {
  const sent: [number, Change][] = [];
  const saved: Thing[] = [];
  let stale = 0;
  let thing: Thing = { version: 1, name: '', reach: 12 };
  const saver = new Saver<Thing, Change>(1, {
    send: async (version, change) => {
      sent.push([version, change]);
      await Promise.resolve();
      const answer = answers.shift();
      if (answer) return answer;
      thing = { ...thing, ...change, version: version + 1 };
      return { ok: true, value: thing, version: thing.version };
    },
    onsaved: (value) => saved.push(value),
    onstale: () => void (stale += 1),
  });
  return { saver, sent, saved, stale: () => stale };
}

describe('Saving by itself', () => {
  it('names the version of the change before, and lays together what comes meanwhile', async () => {
    const { saver, sent, saved } = saving();
    const first = saver.change({ name: 'R' });
    void saver.change({ name: 'Ru' });
    void saver.change({ name: 'Ruth', reach: 11 });
    await first;
    expect(sent).toEqual([
      [1, { name: 'R' }],
      [2, { name: 'Ruth', reach: 11 }],
    ]);
    expect(saved).toEqual([{ version: 3, name: 'Ruth', reach: 11 }]);
    expect(saver.state).toBe('saved');
  });

  it('keeps what could not be sent and sends it when asked again', async () => {
    const { saver, sent } = saving([refused('offline', 0)]);
    await saver.change({ name: 'Ruth' });
    expect(saver.state).toBe('kept');
    await saver.change({ reach: 11 });
    expect(sent.at(-1)).toEqual([1, { name: 'Ruth', reach: 11 }]);
    expect(saver.trouble).toBeNull();
  });

  it('fetches anew when someone else was faster, and does not write over it', async () => {
    const { saver, sent, stale } = saving([refused('stale-version', 412)]);
    await saver.change({ name: 'Ruth' });
    expect(stale()).toBe(1);
    expect(sent).toHaveLength(1);
  });
});
