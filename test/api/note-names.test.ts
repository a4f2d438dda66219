import { describe, expect, it } from 'vitest';
import type { NamedNotes } from '#music';
import { addMember, bringHymn, ownApp } from '#test/support/api.ts';
import { planService } from '#test/support/planned-service.ts';
import { expectProblem } from '#test/support/problem.ts';
import { pagesOf, songItem } from '#test/support/service.ts';
import { addService } from '#test/support/visitors.ts';

const ALL: readonly NamedNotes[] = ['english', 'german', 'solfege', 'numbers'];

/** A pianist and somebody who plays from words, in B flat, where the names differ most. */
async function sunday() {
  const own = await ownApp();
  const song = await bringHymn(own.api);
  const ines = await addMember(own.api, { name: 'Ines' });
  const service = await addService(own.api, {
    items: [songItem('a', song.id, { key: { tonic: 'Bb', mode: 'major' } })],
    people: [{ member: ines.id, roles: ['keys', 'guitar'] }],
  });
  const ask = (query = '') => pagesOf(own.api, service.id, ines.id, query);
  return { ...own, song, ines, service, ask };
}

async function saidIn({ ask }: Pick<Awaited<ReturnType<typeof sunday>>, 'ask'>, query: string) {
  const { pages } = await ask(query);
  const [staff, words] = pages;
  if (staff?.kind !== 'staff' || words?.kind !== 'words') throw new Error('other pages');
  const { heading, systems, summary } = staff.sheet;
  return {
    key: heading.key,
    called: heading.called ?? '',
    strip: systems[0]?.strip.map(({ chord }) => chord) ?? [],
    drawn: systems.map(({ svg }) => svg).join(''),
    summary,
    overWords: words.sheet.passes.flatMap(({ lines }) =>
      lines.flatMap(({ pieces }) => pieces.flatMap(({ chord }) => (chord ? [chord.name] : []))),
    ),
  };
}

describe('What notes are called', () => {
  it('is asked for with the pages: chord symbols, pictures of hands and sentences follow', async () => {
    const own = await sunday();
    const [english, german, solfege, numbers] = await Promise.all(
      ALL.map((names) => saidIn(own, `?names=${names}`)),
    );
    if (!english || !german || !solfege || !numbers) throw new Error('no pages');
    expect(english.strip).toContain('E♭');
    expect(english.called).toBe('');
    expect(german.strip).toEqual(english.strip.map((each) => each.replace('B♭', 'B').replace('E♭', 'Es'))); // prettier-ignore
    expect(german.called).toContain('H is B natural');
    expect(solfege.strip).toEqual(expect.arrayContaining(['Si♭', 'Mi♭', 'Solm']));
    expect(numbers.strip).toEqual(expect.arrayContaining(['1', '4', '6m']));
    expect([english, german, solfege, numbers].map(({ key }) => key)).toEqual(Array(4).fill('B♭ major')); // prettier-ignore
    expect(german.summary).toContain('Es');
    expect(numbers.summary).toBe(english.summary);
    expect(solfege.drawn).toContain('>Mi<');
    expect(numbers.drawn).toContain('>6m<');
    expect(new Set(numbers.overWords.map((each) => each.charAt(0)))).toEqual(new Set(['1', '4', '5', '6'])); // prettier-ignore
    expect(german.overWords).toContain('Es');
  });

  it('is English where nothing is asked, and is never mixed up in what is kept', async () => {
    const own = await sunday();
    const first = await own.ask();
    for (const names of [...ALL, ...ALL]) {
      const { pages } = await own.ask(`?names=${names}`);
      const called = pages[0]?.kind === 'staff' ? (pages[0].sheet.heading.called ?? '') : null;
      expect(called === '', names).toBe(names === 'english');
    }
    expect(await own.ask()).toEqual(first);
    expect(await own.ask('?names=english')).toEqual(first);
  });

  it('is asked for with one sheet too, and with nothing else', async () => {
    const { api, song } = await sunday();
    const path = `/api/songs/${song.id}/sheet?key=Bb`;
    const german = await api.get(`${path}&names=german`).expect(200);
    expect(german.body.heading.called).toContain('H is B natural');
    const english = await api.get(path).expect(200);
    expect(english.body.heading.called).toBeUndefined();
    expectProblem(await api.get(`${path}&names=latin`), 'invalid-input');
  });

  it('makes a packet of its own', async () => {
    const { api } = await ownApp();
    const { service, joel } = await planService(api);
    const url = `/api/services/${service.id}/packets/${joel.id}`;
    const tags = [];
    for (const query of ['', '?names=english', '?names=solfege', '?names=numbers', ''])
      tags.push((await api.get(url + query).expect(200)).headers['etag']);
    const [plain, english, solfege, numbers, again] = tags;
    expect([english, again]).toEqual([plain, plain]);
    expect(new Set([plain, solfege, numbers]).size).toBe(3);
  });
});
