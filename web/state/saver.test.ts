import { describe, expect, it } from 'vitest';
import type { Answer } from '#web/api/http.ts';
import { retryKept, Saver } from './saver.svelte.ts';

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
  const saver = new Saver<Thing, Change>(thing, {
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

/** A saver beside someone else, who has changed what is stored. */
function beside(theirs: Partial<Thing>) {
  const before: Thing = { version: 1, name: 'Ada', reach: 12 };
  let thing: Thing = { ...before, ...theirs, version: 2 };
  const merged: [Thing, Change | null][] = [];
  const sent: [number, Change][] = [];
  const saver = new Saver<Thing, Change>(before, {
    send: async (version, change) => {
      sent.push([version, change]);
      await Promise.resolve();
      if (version !== thing.version) return refused('stale-version', 412);
      thing = { ...thing, ...change, version: version + 1 };
      return { ok: true, value: thing, version: thing.version };
    },
    onsaved: () => undefined,
    onstale: () => expect.unreachable('it can be laid together'),
    fresh: async () => Promise.resolve({ ok: true, value: thing, version: thing.version }),
    onmerged: (now, lost) => merged.push([now, lost]),
  });
  return { saver, sent, merged, now: () => thing };
}

describe('Saving what someone else changed in between', () => {
  it('loses nothing where both wrote the same', async () => {
    const { saver, sent, merged } = beside({ name: 'Ada Lund' });
    await saver.change({ name: 'Ada Lund' });
    expect(merged.map(([, lost]) => lost)).toEqual([null]);
    expect(sent).toHaveLength(1);
    expect(saver.state).toBe('saved');
  });

  it('sends again what they left alone, and both changes stand', async () => {
    const { saver, sent, merged, now } = beside({ reach: 11 });
    await saver.change({ name: 'Ruth' });
    expect(now()).toEqual({ version: 3, name: 'Ruth', reach: 11 });
    expect(sent.map(([version]) => version)).toEqual([1, 2]);
    expect(merged).toEqual([[{ version: 2, name: 'Ruth', reach: 11 }, null]]);
    expect([saver.state, saver.held]).toEqual(['saved', null]);
  });

  it('lets theirs stand where both changed the same, and hands back what was lost', async () => {
    const { saver, merged, now } = beside({ name: 'Ada B.' });
    await saver.change({ name: 'Ruth', reach: 10 });
    expect(now()).toEqual({ version: 3, name: 'Ada B.', reach: 10 });
    expect(merged).toEqual([[{ version: 2, name: 'Ada B.', reach: 10 }, { name: 'Ruth' }]]);
  });
});

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

  it.each([
    ['no network', 'offline', 0, /^offline$/],
    ['a broken server', 'internal', 500, /status 500.*kept here/],
    ['a busy server', 'engraver-busy', 503, /status 503.*kept here/],
    ['a session that has ended', 'not-signed-in', 401, /passphrase.*kept here/],
    ['too many questions', 'unknown', 429, /status 429.*kept here/],
  ])('with %s it keeps the change, says so, and never calls it saved', async (...row) => {
    const [, code, status, words] = row;
    const { saver, sent, saved } = saving([refused(code, status)]);
    const first = saver.change({ name: 'Ruth' });
    void saver.change({ reach: 11 });
    await first;
    expect(saver.state).toBe('kept');
    expect(saver.trouble?.message).toMatch(words);
    expect(saver.held).toEqual({ name: 'Ruth', reach: 11 });
    expect(saved).toEqual([]);
    await saver.retry();
    expect(sent.at(-1)).toEqual([1, { name: 'Ruth', reach: 11 }]);
    expect([saver.state, saver.held, saver.trouble]).toEqual(['saved', null, null]);
  });

  it('sends what waits anywhere when the app is let in again', async () => {
    const { saver, sent } = saving([refused('not-signed-in', 401)]);
    await saver.change({ name: 'Ruth' });
    expect(retryKept()).toBe(true);
    await saver.retry();
    expect(sent).toHaveLength(2);
    expect(saver.state).toBe('saved');
    expect(retryKept()).toBe(false);
  });

  it('puts back what the server has where it refuses the change, and says why', async () => {
    const { saver, saved } = saving([refused('A name needs a letter.', 422)]);
    await saver.change({ name: '' });
    expect(saved).toEqual([{ version: 1, name: '', reach: 12 }]);
    expect(saver.trouble?.message).toBe(
      'Not saved, and put back as it was. A name needs a letter.',
    );
    expect([saver.state, saver.held]).toEqual(['saved', null]);
  });

  it('still sends what was changed while the refused change was on its way', async () => {
    const { saver, sent, saved } = saving([refused('no', 422)]);
    const first = saver.change({ name: '' });
    void saver.change({ reach: 11 });
    await first;
    expect(sent).toEqual([
      [1, { name: '' }],
      [1, { reach: 11 }],
    ]);
    expect(saved).toEqual([{ version: 2, name: '', reach: 11 }]);
    expect(saver.trouble?.code).toBe('no');
    expect([saver.state, saver.held]).toEqual(['saved', null]);
  });

  it('fetches anew when someone else was faster, and does not write over it', async () => {
    const { saver, sent, saved, stale } = saving([refused('stale-version', 412)]);
    const first = saver.change({ name: 'Ruth' });
    void saver.change({ reach: 11 });
    await first;
    expect(stale()).toBe(1);
    expect(sent).toHaveLength(1);
    expect(saved.at(-1)?.name).toBe('');
    expect([saver.state, saver.held]).toEqual(['saved', null]);
  });
});
