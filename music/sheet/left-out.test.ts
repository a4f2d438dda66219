import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import type { Key } from '../pitch/key.ts';
import type { Pass } from '../score/score.ts';
import type { Arrangement, Player } from '../parts/arrangement.ts';
import type { Part } from '../parts/part.ts';
import { build } from '../parts/parts.ts';
import type { Engraved } from './engrave.ts';
import { request, systemsOf } from './sheet.ts';

const song = hymn('O_Come_O_Come_Emmanuel-Veni_Emmanuel.abc');
const TEAM = { roles: ['keys', 'lead voice'] as const, lead: 'Ada' };
const pass = (section: string, verse: number | null = null): Pass => ({ section, verse });

function partOf(role: Player['role'], form: readonly Pass[]): Part {
  const arrangement: Arrangement = {
    key: song.keys[0]?.key as Key,
    tempo: null,
    density: 'bar',
    form,
  };
  const player: Player = { id: 'ada', name: 'Ada', role, level: 'beginner', reach: 12 };
  const built = build(song, arrangement, player, TEAM);
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

/** Sections in the margin → how they are played, a line to each section. */
function marginOf(part: Part): Readonly<Record<string, readonly string[]>> {
  const { bars, sections } = part.score;
  const starts = sections.map(({ from }) => bars.findIndex(({ at, length }) => at + length > from));
  const systems = starts.map((from, i) => ({
    svg: '',
    width: 0,
    height: 0,
    from,
    to: (starts[i + 1] ?? bars.length) - 1,
  }));
  const laid = systemsOf(part, 1, { glyphs: '', systems } satisfies Engraved);
  return Object.fromEntries(
    laid.flatMap(({ margin }) => (margin ? [[margin.section, margin.directions]] : [])),
  );
}

describe('A section that the form leaves out', () => {
  it.each(['lead voice', 'keys', 'bass'] as const)('says so in the margin of %s', (role) => {
    const margin = marginOf(partOf(role, [pass('verse', 1), pass('verse', 2)]));
    expect(margin['Refrain']?.[0]).toBe('left out');
    const others = Object.entries(margin).filter(([name]) => name !== 'Refrain');
    expect(others.length).toBeGreaterThan(0);
    for (const [name, words] of others) expect(words, name).not.toContain('left out');
  });

  it('is none where every section is played, or the song has no form', () => {
    for (const form of [song.form, []]) {
      const margin = marginOf(partOf('keys', form));
      expect(Object.keys(margin)).toContain('Refrain');
      expect(Object.values(margin).flat()).not.toContain('left out');
    }
  });

  it('has no words under its notes on the page', () => {
    const page = { width: 1180, textScale: 1, verse: null };
    const words = (form: readonly Pass[]) =>
      request(partOf('lead voice', form), page)
        .score.voices.flatMap(({ notes }) => notes)
        .flatMap(({ syllables }) => syllables?.[0]?.text ?? [])
        .join(' ');
    expect(words(song.form)).toMatch(/Re joice/);
    expect(words([pass('verse', 1)])).toMatch(/^O come, O come/);
    expect(words([pass('verse', 1)])).not.toMatch(/Re joice/);
  });
});
