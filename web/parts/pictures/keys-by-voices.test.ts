import { readFileSync } from 'node:fs';
import { mount, unmount } from 'svelte';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Abc, KeyFit, Keys, type Key, type Singer } from '#music';
import { drawGrid } from './keys-by-voices.ts';
import KeysByVoices from './KeysByVoices.svelte';

const read = Abc.read(readFileSync('seed-data/hymns/Amazing_Grace-New_Britain.abc'));
const score = read.ok ? read.value[0] : undefined;
if (!score) throw new Error('the hymn is there');
const F: Key = { tonic: 'F', mode: 'major' };
const G: Key = { tonic: 'G', mode: 'major' };
const RUTH: Singer = { id: 'r', name: 'Ruth', comfortable: { low: 'A3', high: 'D5' } };
const TOMAS: Singer = { id: 't', name: 'Tomas', comfortable: { low: 'A2', high: 'D4' } };
const TABLE = KeyFit.table(score, [RUTH, TOMAS]);

describe('keys by voices', () => {
  const rows = drawGrid(TABLE, { chosen: F, usual: Keys.keysToOffer('major')[2] as Key });

  it('has each key once, the written, usual and chosen ones marked', () => {
    expect(rows.map(({ name }) => name)).toHaveLength(12);
    expect(rows.filter(({ is }) => is !== '').map(({ name, is }) => [name, is])).toEqual([
      ['D', 'usual'],
      ['G', 'as written'],
    ]);
    expect(rows.filter(({ isChosen }) => isChosen).map(({ name }) => name)).toEqual(['F']);
  });

  it('has of each voice the verdict and the time outside that the sentences go by', () => {
    // 16.7 % below in D flat, 14.6 % above in A flat: the figures of the ranking example.
    const of = (name: string) => rows.find((row) => row.name === name)?.cells[0];
    expect(of('D♭')).toMatchObject({ verdict: 'outside', outside: '17\u00a0%', side: 'low' });
    expect(of('A♭')).toMatchObject({ verdict: 'outside', outside: '15\u00a0%', side: 'high' });
    expect(of('F')).toMatchObject({ verdict: 'easy', outside: '', below: false });
    expect(rows.find(({ name }) => name === 'F')?.cells[1]?.below).toBe(true);
  });

  it('has each voice in the raised passes where those are worst for it', () => {
    const up = { section: score.sections[0]?.id ?? '', verse: 2, up: 1 };
    const form = [{ ...up, verse: 1, up: 0 }, up];
    const raised = drawGrid(KeyFit.table(score, [RUTH], { form }), { chosen: F, usual: null });
    const of = (name: string) => raised.find((row) => row.name === name)?.cells[0];
    // What G is with its second verse in A flat is A flat’s own figure above.
    expect(of('G')).toMatchObject({ verdict: 'outside', outside: '15\u00a0%', side: 'high' });
    expect(of('D♭')).toMatchObject({ verdict: 'outside', outside: '17\u00a0%', side: 'low' });
  });

  it('its bars are as long as the time outside', () => {
    const cells = rows.flatMap((row) => row.cells);
    for (const cell of cells) {
      expect(cell.bar === 0).toBe(cell.outside === '');
      expect(cell.bar).toBeLessThanOrEqual(1);
    }
  });
});

describe('on the screen', () => {
  let shown: object | undefined;
  afterEach(() => {
    if (shown) void unmount(shown);
    shown = undefined;
    document.body.innerHTML = '';
  });

  it('is a table whose keys can be pressed, and says what the signs mean', () => {
    const onchoose = vi.fn();
    shown = mount(KeysByVoices, {
      target: document.body,
      props: { table: TABLE, chosen: F, usual: null, lead: 'r', onchoose },
    });
    const buttons = [...document.querySelectorAll('button')];
    expect(buttons).toHaveLength(12);
    const pressed = buttons.filter((each) => each.getAttribute('aria-pressed') === 'true');
    expect(pressed.map((each) => each.textContent.trim())).toEqual(['F major']);
    buttons.find((each) => each.textContent.trim().startsWith('G'))?.click();
    expect(onchoose).toHaveBeenCalledWith(G);
    const cells = [...document.querySelectorAll('tbody tr:first-of-type td')];
    expect(cells.map((cell) => cell.textContent.replace(/\s+/g, ' ').trim())[0]).toMatch(/outside/);
    expect(document.querySelector('.legend')?.textContent).toContain('at the edge');
  });
});
