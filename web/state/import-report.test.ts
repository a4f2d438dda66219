import { describe, expect, it } from 'vitest';
import { sayReport, writeReport } from './import-report.ts';

describe('The report', () => {
  const lines = (outcomes: Record<string, number>) =>
    Object.entries(outcomes).flatMap(([outcome, count]) =>
      Array.from({ length: count }, () => ({ outcome: outcome as 'in' })),
    );

  it.each([
    [{ in: 9, 'in with guesses': 3, 'left out': 2, failed: 1 }, '12 songs are in, 3 of them with guesses; 2 left out, 1 could not be read.'], // prettier-ignore
    [{ in: 1 }, '1 song is in.'],
    [{ failed: 2 }, 'No song is in; 2 could not be read.'],
  ])('%j is one sentence', (outcomes, words) => expect(sayReport(lines(outcomes))).toBe(words));

  it('can be copied as text: the sentence, and each list with its reasons', () => {
    const none = { why: '', problems: [], double: null };
    const text = writeReport([
      { ...none, outcome: 'in', title: 'Slane', file: 'a/Slane.abc' },
      {
        ...none,
        outcome: 'left out',
        title: 'Slane',
        file: 'b.abc',
        double: { id: 'x', title: 'Be Thou My Vision', because: 'melody' },
      },
      {
        ...none,
        outcome: 'in with guesses',
        title: 'Picardy',
        file: 'c.mid',
        why: 'The key is a guess.',
        problems: [
          { code: 'guess-key', message: 'The key is a guess.' },
          { code: 'short-bar', message: 'This bar is short.', line: 7 },
        ],
      },
      { ...none, outcome: 'failed', title: null, file: 'd.xml', why: 'Line 1: It is cut off.' },
    ]);
    expect(text).toBe(
      [
        '2 songs are in, 1 of them with guesses; 1 left out, 1 could not be read.',
        '',
        'could not be read (1)',
        '- d.xml',
        '  Line 1: It is cut off.',
        '',
        'left out (1)',
        '- Slane [b.abc]',
        '  Be Thou My Vision is in the book and has the same melody, perhaps in another key.',
        '',
        'in, with guesses to look at (1)',
        '- Picardy [c.mid]',
        '  The key is a guess.',
        '    The key is a guess.',
        '    line 7: This bar is short.',
        '',
        'in (1)',
        '- Slane [a/Slane.abc]',
        '',
      ].join('\n'),
    );
  });
});
