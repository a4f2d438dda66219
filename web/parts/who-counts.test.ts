import { describe, expect, it } from 'vitest';
import { sayHands, type HandsChoice } from './who-counts.ts';

const choice = (name: string, role: HandsChoice['role'], counts: boolean): HandsChoice => ({
  id: `${name} ${role}`,
  name,
  role,
  level: 'beginner',
  counts,
  byButton: null,
  player: { id: name },
});
const JOEL = { id: 'Joel', name: 'Joel' };
const joel = choice('Joel', 'keys', true);
const elias = choice('Elias', 'guitar', true);
const dora = choice('Dora', 'bass', true);
const off = (each: HandsChoice) => ({ ...each, counts: false });

describe('what is chosen about hands, in one line', () => {
  it('tells for whom the page is laid out, and who counts too', () => {
    expect(sayHands([joel, elias, dora], JOEL)).toBe(
      'For Joel at the keys; Elias on the guitar and Dora on the bass count too',
    );
    expect(sayHands([joel, elias, off(dora)], JOEL)).toBe(
      'For Joel at the keys; Elias on the guitar counts too',
    );
    expect(sayHands([joel, off(elias)], JOEL)).toBe('For Joel at the keys');
  });

  it('tells when their own hands do not count', () => {
    expect(sayHands([off(joel), elias], JOEL)).toBe(
      'For Joel at the keys; in the key Elias on the guitar counts',
    );
    expect(sayHands([off(joel)], JOEL)).toBe('For Joel at the keys; no hands count in the key');
  });

  it('of one person who plays two things, tells the other one too', () => {
    expect(sayHands([joel, choice('Joel', 'bass', true)], JOEL)).toBe(
      'For Joel at the keys; Joel on the bass counts too',
    );
  });

  it('where no page is laid out, tells for whose hands the keys are weighed', () => {
    expect(sayHands([joel, dora])).toBe(
      'The keys are weighed for Joel at the keys and Dora on the bass',
    );
    expect(sayHands([off(joel)])).toBe('The keys are weighed for nobody’s hands');
  });
});
