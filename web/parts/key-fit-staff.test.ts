import { flushSync, mount, unmount } from 'svelte';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { KeyFit, type Key, type Singer } from '#music';
import { buildScore } from '#test/support/score-builder.ts';
import KeyFitStaff from './KeyFitStaff.svelte';
import { FADE, STEP, columnAfter, drawStaff, initialsOf, scrollTo } from './key-fit-staff.ts';

const score = buildScore({
  key: 'G',
  meter: '4/4',
  voices: { tune: 'D4:1 G4:4 A4:2 D5:1' },
});
const ruth: Singer = {
  id: 'ruth',
  name: 'Ruth',
  comfortable: { low: 'A3', high: 'C5' },
  reads: 'as written',
};
const tomas: Singer = {
  id: 'tomas',
  name: 'Tomas',
  comfortable: { low: 'C3', high: 'E4' },
  reads: 'octave below',
};
const table = KeyFit.table(score, [ruth, tomas]);
const key = (tonic: string): Key => ({ tonic, mode: 'major' });
const columnOf = (tonic: string, lead?: string) => {
  const column = drawStaff(table, key('F'), lead).columns.find((each) => each.key.tonic === tonic);
  if (!column) throw new Error(`no column ${tonic}`);
  return column;
};

describe('the drawing of a tune key by key', () => {
  it('puts the ink on the staff places of the key, as wide as the time there', () => {
    const { lines, columns } = drawStaff(table, key('F'));
    const [, gLine] = [...lines];
    const inG = columns.find((each) => each.name === 'G');
    expect(inG?.ink.map(({ width }) => width)).toEqual([0.25, 1, 0.5, 0.25]);
    expect(inG?.ink[1]?.y).toBe(gLine);
    expect(columnOf('F').ink[1]?.y).toBe((gLine ?? 0) + STEP);
  });

  it('draws ledger lines where the tune leaves the staff, and only there', () => {
    expect(columnOf('G').ledgers).toEqual([]);
    expect(columnOf('F').ledgers).toHaveLength(1);
    expect(columnOf('D').ledgers).toHaveLength(2);
  });

  it('leaves hollow what lies outside the lead’s comfortable range', () => {
    expect(columnOf('F').ink.map(({ hollow }) => hollow)).toEqual([false, false, false, false]);
    expect(columnOf('G').ink.map(({ hollow }) => hollow)).toEqual([false, false, false, true]);
    expect(columnOf('D', 'tomas').ink.map(({ hollow }) => hollow)).toEqual([
      true,
      false,
      false,
      false,
    ]);
  });

  it('stands the range of a voice that sings an octave below where the tune is written', () => {
    const { brackets, lines } = drawStaff(table, key('F'));
    const [low, , , , high] = [...lines];
    expect(brackets.map(({ initial, below }) => [initial, below])).toEqual([
      ['R', false],
      ['T', true],
    ]);
    expect(brackets[1]?.octave).toBe('an octave below the tune');
    expect(brackets[1]?.range).toBe('C3–E4');
    expect(brackets[1]?.top).toBe((high ?? 0) + STEP);
    expect(brackets[1]?.bottom).toBe((low ?? 0) + 2 * STEP);
  });

  it('tells voices apart by a letter, or two', () => {
    expect(initialsOf(['Ruth', 'Tomas', 'the congregation'])).toEqual(['R', 'T', 'C']);
    expect(initialsOf(['Ruth', 'Robin'])).toEqual(['Ru', 'Ro']);
  });

  it.each([
    ['ArrowRight', 11, 0],
    ['ArrowLeft', 0, 11],
    ['ArrowUp', 3, 4],
    ['Home', 5, 0],
    ['End', 5, 11],
    ['Enter', 5, null],
  ])('%s from %d leads to %s', (pressed, from, to) => {
    expect(columnAfter(pressed, from, 12)).toBe(to);
  });
});

describe('a staff that is wider than its window', () => {
  const [width, room, count] = [44, 260, 12];
  const whole = width * count;

  it('scrolls so that the chosen column is clear of the fading ends, from wherever it stood', () => {
    for (let left = 0; left <= whole - room; left += 1) {
      for (let column = 0; column < count; column += 1) {
        const to = scrollTo(column, width, { left, room, whole });
        const [start, end] = [column * width - to, (column + 1) * width - to];
        const [fadesLeft, fadesRight] = [to > 2, to < whole - room - 2];
        expect(start, `from ${left}`).toBeGreaterThanOrEqual(fadesLeft ? FADE : 0);
        expect(end, `from ${left}`).toBeLessThanOrEqual(room - (fadesRight ? FADE : 0));
      }
    }
  });

  it('stays where it is while the column is clear', () => {
    expect(scrollTo(5, width, { left: 120, room, whole })).toBe(120);
    // Column 3 begins 12 px right of the edge, under the fade.
    expect(scrollTo(3, width, { left: 120, room, whole })).not.toBe(120);
  });
});

describe('the picture on the screen', () => {
  let shown: Record<string, unknown> | undefined;
  const onchoose = vi.fn();
  function show(more: object = {}) {
    shown = mount(KeyFitStaff, {
      target: document.body,
      props: { table, chosen: key('F'), lead: 'ruth', onchoose, ...more },
    });
    flushSync();
    return [...document.querySelectorAll<HTMLElement>('[role=radio]')];
  }
  afterEach(async () => {
    if (shown) await unmount(shown);
    onchoose.mockReset();
  });

  it('is a group of twelve keys of which one is chosen and in the tab order', () => {
    const keys = show();
    expect(keys).toHaveLength(12);
    const checked = keys.filter((each) => each.getAttribute('aria-checked') === 'true');
    expect(checked.map((each) => each.getAttribute('aria-label'))).toEqual(['F major']);
    expect(keys.filter((each) => each.tabIndex === 0)).toEqual(checked);
    expect(keys[7]?.getAttribute('aria-label')).toBe('G major, as written');
  });

  it('says for each key what it means for each voice', () => {
    const keys = show();
    const id = keys[7]?.getAttribute('aria-describedby') ?? '';
    const words = document.getElementById(id)?.textContent;
    expect(words).toContain('Too high for Ruth: bar 2 has D5 for one beat');
    expect(words).toContain('Tomas an octave down');
  });

  it('chooses by click and by arrow keys', () => {
    const keys = show();
    keys[7]?.click();
    expect(onchoose).toHaveBeenLastCalledWith(key('G'));
    keys[5]?.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowLeft', bubbles: true }));
    expect(onchoose).toHaveBeenLastCalledWith(key('E'));
    expect(document.activeElement).toBe(keys[4]);
  });

  it('explains hollow ink where there is some', () => {
    show();
    expect(document.querySelector('figcaption')?.textContent).toContain(
      'Hollow: outside what sits easily for Ruth.',
    );
  });

  it('says what to do where there is no tune', () => {
    const silent = buildScore({ key: 'G', meter: '4/4', voices: { tune: 'r:4' } });
    show({ table: KeyFit.table(silent, [ruth]) });
    expect(document.body.textContent).toContain('There is no tune to measure');
  });
});
