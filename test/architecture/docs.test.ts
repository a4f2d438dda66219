import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, dirname } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = new URL('../../', import.meta.url);
const ROOMS = 'docs|music|prisma|seed-data|server|test|web|\\.ci';
const PATH = new RegExp(`^(?:${ROOMS})/[\\w./*-]*$`);
const NAME = /^[a-z][\w-]*(?:\.[a-z]+)?$/;
/** Made by a command, and not kept: its folder is there only afterwards. */
const MADE = ['test/results/'];

interface Mention {
  readonly line: number;
  readonly path: string;
  /** Where the path may be found from; bare names of a table's row stand in or beside the row's first path. */
  readonly from: readonly string[];
}

/** Links, images and whatever stands in code and looks like a path; a bare name only in a row that starts with a path. */
function mentions(text: string): Mention[] {
  return text.split('\n').flatMap((words, i) => {
    const line = i + 1;
    const links = [...words.matchAll(/\]\(([^)#\s]+)[^)]*\)/g)].map(([, path]) => path ?? '');
    const code = [...words.matchAll(/`([^`]+)`/g)].map(([, span]) => span ?? '');
    const paths = [...links.filter((path) => !/^\w+:/.test(path)), ...code.filter(isPath)];
    const room = /^\| `/.test(words) && PATH.test(code[0] ?? '') ? (code[0] ?? '') : null;
    const names = room === null ? [] : code.slice(1).filter((span) => NAME.test(span));
    return [
      ...paths.map((path) => ({ line, path, from: ['.'] })),
      ...names.map((path) => ({ line, path, from: [room ?? '', dirname(room ?? '')] })),
    ];
  });
}

function isPath(span: string): boolean {
  return PATH.test(span) && !MADE.includes(span);
}

function exists(path: string): boolean {
  if (!path.includes('*')) return existsSync(new URL(path, ROOT));
  const name = new RegExp(`^${basename(path).replaceAll('.', '\\.').replaceAll('*', '.*')}$`);
  const folder = new URL(`${dirname(path)}/`, ROOT);
  return existsSync(folder) && readdirSync(folder).some((each) => name.test(each));
}

describe.each(['README.md', 'DEVELOPERS.md'])('%s', (file) => {
  const named = mentions(readFileSync(new URL(file, ROOT), 'utf8'));

  it('names paths', () => {
    expect(named.length).toBeGreaterThan(2);
  });

  it.each(named)('line $line: $path is there', ({ path, from }) => {
    expect(from.some((folder) => exists(`${folder}/${path}`))).toBe(true);
  });
});
