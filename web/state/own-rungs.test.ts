import { describe, expect, it } from 'vitest';
import { Rungs } from '#music';
import { withHelp, withoutHelp, withOwnStep, withRungsOf, withSectionStep } from './own-rungs.ts';

const usual = Rungs.rungsFor('beginner');

describe('what somebody plays of one song', () => {
  it('writes down what differs from their levels, and nothing else', () => {
    const raised = withOwnStep({}, usual, 'left', 2);
    expect(raised).toEqual({ left: 2 });
    expect(withOwnStep(raised, usual, 'pedal', 1)).toEqual({ left: 2, pedal: 1 });
    expect(withOwnStep(raised, usual, 'left', 1)).toEqual({});
    expect(withOwnStep(raised, usual, 'left', null)).toEqual({});
  });

  it('keeps a section that is played otherwise until it is as all through', () => {
    const through = Rungs.rungsIn(usual, { left: 2 }, '');
    const refrain = withSectionStep({ left: 2 }, through, 'refrain', 'right', 2);
    expect(refrain).toEqual({ left: 2, sections: { refrain: { right: 2 } } });
    expect(withOwnStep(refrain, usual, 'left', null)).toEqual({
      sections: { refrain: { right: 2 } },
    });
    const more = withSectionStep(refrain, through, 'refrain', 'left', 3);
    expect(Rungs.rungsIn(usual, more, 'refrain')).toMatchObject({ right: 2, left: 3 });
    const less = withSectionStep(more, through, 'refrain', 'right', null);
    expect(withSectionStep(less, through, 'refrain', 'left', null)).toEqual({ left: 2 });
  });

  it('names nobody who plays as their levels say', () => {
    const all = withRungsOf({ r: { right: 2 } }, 'i', { left: 2 });
    expect(all).toEqual({ r: { right: 2 }, i: { left: 2 } });
    expect(withRungsOf(all, 'i', {})).toEqual({ r: { right: 2 } });
  });

  it('takes a help for the singers in one section, and leaves it without what else is set there', () => {
    const helped = withHelp({ left: 2, sections: { v: { left: 3 } } }, 'v', { pulse: true });
    expect(helped).toEqual({ left: 2, sections: { v: { left: 3, pulse: true } } });
    expect(withoutHelp(helped, 'v', { pulse: true })).toEqual({
      left: 2,
      sections: { v: { left: 3 } },
    });
    const onTop = withHelp({}, 'v', { right: 3 });
    expect(withoutHelp(onTop, 'v', { right: 3 })).toEqual({});
  });
});
