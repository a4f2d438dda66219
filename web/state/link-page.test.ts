import { describe, expect, it } from 'vitest';
import { aboutFrom, linkPageOf, rolesBeside } from './link-page.ts';

describe('The page that one comes from', () => {
  it.each(['/s/abc', '/s/a_b-C9/ruth-1'])('%s is one of a set link', (from) => {
    expect(linkPageOf(from)).toBe(from);
    expect(aboutFrom(from)).toBe(`/about?from=${from}`);
  });

  it.each([
    null,
    '',
    '/',
    '/songs',
    '/s/',
    '/s/abc/ruth/more',
    '/s/abc#secret',
    '/s/../people',
    '//elsewhere.example/s/abc',
    'https://elsewhere.example/s/abc',
    'javascript:alert(1)',
    '/s/abc\n',
  ])('%j is none, and is left alone', (from) => {
    expect(linkPageOf(from)).toBeNull();
    expect(aboutFrom(from)).toBe('/about');
  });

  it('is the same with a stroke at its end', () => {
    expect(aboutFrom('/s/abc/')).toBe('/about?from=/s/abc');
  });
});

describe('What someone does', () => {
  it.each([
    ['Ruth', ['lead voice', 'keys'], 'lead voice, keys'],
    ['Ruth', [], ''],
    ['a harmony voice', ['harmony voice'], ''],
    ['harmony voice 2', ['harmony voice'], ''],
    ['a bass player', ['bass'], ''],
    ['lead voice and keys player 1', ['lead voice', 'keys'], ''],
    ['a drummer', ['drums'], ''],
  ] as const)('of %s who does %j stands beside the name as “%s”', (name, roles, said) => {
    expect(rolesBeside({ name, roles: [...roles] })).toBe(said);
  });
});
