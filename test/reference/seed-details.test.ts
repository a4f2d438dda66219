import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Scripture } from '#music';
import { SeedTeam } from '#server/launch/seed-team.ts';

const root = new URL('../../seed-data/', import.meta.url);
const plan = SeedTeam.parse(JSON.parse(readFileSync(new URL('team.json', root), 'utf8')));
const described = plan.songs.flatMap(({ file, details }) => (details ? [{ file, details }] : []));

/** One of the hymns is Latin-1. */
function textOf(file: string): string {
  const bytes = readFileSync(new URL(`hymns/${file}`, root));
  const text = bytes.toString('utf8');
  return text.includes('\ufffd') ? bytes.toString('latin1') : text;
}

// Against the credits of the Open Hymnal Project's own files: fields C:, OHAUTHOR, OHCOMPOSER, OHSCRIP, OHTOPICS.
describe.each(described)('what the demo says of $file', ({ file, details }) => {
  const text = textOf(file);

  it('names people, years and themes that its file names', () => {
    for (const { name, born, died, year } of details.people) {
      expect(text).toContain(name.split(' ').at(-1));
      for (const each of [born, died, year]) if (each !== null) expect(text).toContain(`${each}`);
    }
    for (const theme of details.themes) {
      for (const word of theme.split(/ (?:of|as) |\W+/))
        expect(text.toLowerCase()).toContain(word.toLowerCase());
    }
  });

  it('names places of the Bible that exist and that its file names', () => {
    for (const place of details.scripture) {
      const read = Scripture.read(place);
      expect(read.ok, place).toBe(true);
      for (const { from, chapter } of read.ok ? read.value : []) {
        expect(text).toContain(`${from ?? chapter ?? ''}`);
      }
    }
  });

  it('says why each layer is thought to be in the public domain, as its file does', () => {
    expect(text).toMatch(/^C:\s*copyright: public domain/m);
    for (const { status, reason, where } of details.rights) {
      expect([status, reason === '', where === '']).toEqual(['public domain', false, false]);
    }
  });
});

it('the demo describes most of its songs', () => {
  expect(described.length).toBeGreaterThanOrEqual(16);
});
