import { describe, expect, it } from 'vitest';
import { Jobs, Stopped, TooMany, type Progress, type Tell } from './jobs.ts';

/** Work of so many steps, each of which takes a turn of the loop. */
const steps = (of: number, did: number[] = []) => async (tell: Tell): Promise<string> => {
  for (let done = 0; done <= of; done++) {
    tell({ done, of });
    did.push(done);
    await new Promise((next) => setImmediate(next));
  }
  return `${of} steps`;
}; // prettier-ignore

describe('Work that takes seconds', () => {
  it('is done once, however many wait for it, and tells each how far it is', async () => {
    const jobs = new Jobs<string>(9);
    const did: number[] = [];
    const [one, two]: Progress[][] = [[], []];
    const both = [
      jobs.wait('a', { ontell: (progress) => one?.push(progress) }, steps(2, did)),
      jobs.wait('a', { ontell: (progress) => two?.push(progress) }, steps(2, did)),
    ];
    expect(await Promise.all(both)).toEqual(['2 steps', '2 steps']);
    expect(did).toEqual([0, 1, 2]);
    expect(one?.map(({ done }) => done)).toEqual([0, 1, 2]);
    expect(two).toEqual(one);
  });

  it('is done one after another', async () => {
    const jobs = new Jobs<string>(9);
    const did: number[] = [];
    await Promise.all([jobs.wait('a', {}, steps(2, did)), jobs.wait('b', {}, steps(1, did))]);
    expect(did).toEqual([0, 1, 2, 0, 1]);
  });

  it('stops once nobody waits, and not before; then it begins anew', async () => {
    const jobs = new Jobs<string>(9);
    const did: number[] = [];
    const [first, second] = [new AbortController(), new AbortController()];
    const a = jobs.wait('a', { signal: first.signal }, steps(50, did));
    const b = jobs.wait(
      'a',
      {
        signal: second.signal,
        ontell: ({ done }) => {
          if (done === 2) first.abort();
          if (done === 5) second.abort();
        },
      },
      steps(50, did),
    );
    await expect(b).rejects.toThrow(Stopped);
    await expect(a).rejects.toThrow(Stopped);
    expect(did.at(-1)).toBe(5);
    expect(await jobs.wait('a', {}, steps(1, did))).toBe('1 steps');
  });

  it('never begins where whoever waited left the line', async () => {
    const jobs = new Jobs<string>(9);
    const did: number[] = [];
    const leaves = new AbortController();
    const before = jobs.wait('a', {}, steps(3));
    const gone = jobs.wait('b', { signal: leaves.signal }, steps(3, did));
    leaves.abort();
    await expect(gone).rejects.toThrow(Stopped);
    await before;
    expect(did).toEqual([]);
  });

  it('is refused where too much waits, and goes on after a failure', async () => {
    const jobs = new Jobs<string>(2);
    const fails = jobs.wait('a', {}, async () => {
      throw new Error('broken');
    });
    const next = jobs.wait('b', {}, steps(1));
    await expect(jobs.wait('c', {}, steps(1))).rejects.toThrow(TooMany);
    await expect(fails).rejects.toThrow('broken');
    expect(await next).toBe('1 steps');
  });
});
