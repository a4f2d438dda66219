import { describe, expect, it } from 'vitest';
import { asFile } from './as-file.ts';

describe('the name of a file that is sent', () => {
  it.each([
    ['Amazing Grace.abc', 'Amazing Grace.abc', 'Amazing%20Grace.abc'],
    // The plain twin of RFC 6266, appendix D, and the value of RFC 8187, 3.2.
    [
      'Stille Nacht für alle.mid',
      'Stille Nacht fur alle.mid',
      'Stille%20Nacht%20f%C3%BCr%20alle.mid',
    ],
    ["God's (own) love!.txt", 'Gods (own) love.txt', 'God%27s%20%28own%29%20love%21.txt'],
    ['主を讃えよ.abc', 'song.abc', '%E4%B8%BB%E3%82%92%E8%AE%83%E3%81%88%E3%82%88.abc'],
    ['../../etc/passwd', 'song.. .. etc passwd', '..%20..%20etc%20passwd'],
    [
      'a"; filename="b.exe\r\nX: y.abc',
      'a ; filename= b.exe X y.abc',
      'a%20%3B%20filename%3D%20b.exe%20X%20y.abc',
    ],
    ['half \ud83d a pair.abc', 'half a pair.abc', 'half%20a%20pair.abc'],
  ])('%j', (name, plain, exact) => {
    const said = asFile(name);
    expect(said).toBe(
      `attachment; filename="${plain.replaceAll(/[;=]/g, '')}"; filename*=UTF-8''${exact}`,
    );
  });

  it('never has a line end, a quote or a slash of its own', () => {
    for (let code = 0; code < 300; code += 1) {
      expect(asFile(`a${String.fromCharCode(code)}b.abc`)).toMatch(
        /^attachment; filename="[\w .()-]+"; filename\*=UTF-8''[\w%.~-]+$/,
      );
    }
  });
});
