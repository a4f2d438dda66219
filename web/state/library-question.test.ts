import { describe, expect, it } from 'vitest';
import {
  addressOf,
  clausesOf,
  NOTHING_ASKED,
  questionOf,
  readQuestion,
  without,
  type Question,
} from './library-question.ts';

const asked = (some: Partial<Question>): Question => ({ ...NOTHING_ASKED, ...some });
const say = (some: Partial<Question>): string =>
  clausesOf(asked(some))
    .map(({ words }) => words)
    .join(' · ');

describe('What the book is asked', () => {
  it('stands in the address, and comes back from it', () => {
    const question = asked({
      q: 'grace & truth',
      meter: '3/4',
      low: 'A3',
      high: 'D5',
      rested: '8',
    });
    const address = addressOf(question, 100);
    expect(questionOf(new URLSearchParams(address))).toEqual(question);
    expect(new URLSearchParams(address).get('from')).toBe('100');
    expect(addressOf(NOTHING_ASKED)).toBe('');
  });

  it.each([
    [{ meter: '3/4', low: 'A3', high: 'D5', accidentals: '2', rested: '8' }, 'in 3/4 · sits inside A3–D5 with at most two sharps or flats · rested 8 weeks'], // prettier-ignore
    [{ key: 'E minor' }, 'in E minor'],
    [{ key: 'Bb' }, 'in B♭ major'],
    [{ hymnMeter: 'CM', theme: 'evening', book: 'Psalms' }, 'hymn meter CM · about evening · from Psalms'], // prettier-ignore
    [{ slowest: '60', fastest: '90' }, '60 to 90 beats a minute'],
    [{ slowest: '60' }, '60 beats a minute or faster'],
    [{ fastest: '90' }, '90 beats a minute or slower'],
    [{ high: 'C5', accidentals: '0' }, 'goes no higher than C5 with no sharps or flats'],
    [{ meter: 'free', rested: '1' }, 'in free meter · rested 1 week'],
    [{ q: 'grace', order: 'title' }, ''],
  ])('%j is said as “%s”', (some, words) => expect(say(some)).toBe(words));

  it('can be taken apart, one part at a time', () => {
    const question = asked({ meter: '3/4', low: 'A3', high: 'D5', accidentals: '2' });
    const [meter, range] = clausesOf(question);
    expect(meter && without(question, meter)).toEqual({ ...question, meter: '' });
    expect(range && without(question, range)).toEqual(asked({ meter: '3/4' }));
  });

  it('goes to the server as numbers and words, the rest left out', () => {
    const read = readQuestion(asked({ q: ' grace ', slowest: '60', accidentals: '2' }), 50);
    expect(read).toEqual({ ok: true, query: { q: 'grace', slowest: 60, accidentals: 2, from: 50, most: 50 } }); // prettier-ignore
  });

  it.each([
    ['key', 'H major'],
    ['slowest', '9'],
    ['fastest', 'quick'],
    ['low', 'X3'],
    ['accidentals', '8'],
    ['rested', '-1'],
  ] as const)('is held back where %s is “%s”, with a sentence', (field, text) => {
    const read = readQuestion(asked({ [field]: text }));
    expect(read).toMatchObject({ ok: false, field });
    expect(read.ok ? '' : read.message).toMatch(/\.$/);
  });
});
