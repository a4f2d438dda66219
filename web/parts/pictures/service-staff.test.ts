import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Keys, type Key } from '#music';
import {
  CLEF,
  serviceStaff,
  signatureAt,
  STAFF_TOP,
  STEP,
  type DrawnSign,
  type StaffItem,
} from './service-staff.ts';

const MAJOR = Keys.keysToOffer('major');
const anyKey = fc.constantFrom(...MAJOR, ...Keys.keysToOffer('minor'));
const item = (id: string, key: Key | null, minutes: number | null): StaffItem => ({
  id,
  title: id,
  begins: null,
  minutes,
  song: key && { key, endKey: key, lead: null, fullness: 2 },
  way: '',
});

/** Letters from the top line of a treble staff downwards, read off the drawing. */
const lettersOf = (signs: readonly DrawnSign[]) =>
  signs.map(({ y }) => 'FEDCBAG'.at(Math.round((y - STAFF_TOP) / STEP) % 7));

/** The order of sharps and flats as every primer has it (common practice). */
const ORDER = { sharps: 'FCGDAEB', flats: 'BEADGCF' };

describe('the service as one staff', () => {
  it.each(MAJOR)('prints the signature of $tonic in its order, each sign at its line', (key) => {
    const many = Keys.signatureOf(key);
    const signs = signatureAt(0, key, null);
    const order = many > 0 ? ORDER.sharps : ORDER.flats;
    expect(lettersOf(signs).join('')).toBe(order.slice(0, Math.abs(many)));
    expect(signs.every(({ sign }) => sign === (many > 0 ? '♯' : '♭'))).toBe(true);
  });

  it('cancels what stands no longer, and nothing else', () => {
    fc.assert(
      fc.property(anyKey, anyKey, (from, to) => {
        const [was, now] = [Keys.signatureOf(from), Keys.signatureOf(to)];
        const naturals = signatureAt(0, to, from).filter(({ sign }) => sign === '♮').length;
        const kept = was * now > 0 ? Math.min(Math.abs(was), Math.abs(now)) : 0;
        expect(naturals).toBe(Math.abs(was) - kept);
        expect(signatureAt(0, to, from).length - naturals).toBe(Math.abs(now));
      }),
    );
  });

  it('has every line once, in order, none over the margin, however narrow the page', () => {
    const items = fc.array(fc.tuple(fc.option(anyKey), fc.option(fc.nat(90))), { maxLength: 30 });
    fc.assert(
      fc.property(
        items,
        fc.oneof(fc.integer({ min: 120, max: 1600 }), fc.constant(Infinity)),
        (list, across) => {
          const all = list.map(([key, minutes], i) => item(`${i}`, key, minutes));
          const systems = serviceStaff(all, across);
          expect(systems.flatMap((system) => system.items.map(({ id }) => id))).toEqual(
            all.map(({ id }) => id),
          );
          for (const { items: drawn, width } of systems) {
            let x = CLEF;
            for (const each of drawn) {
              expect(each.x).toBeCloseTo(x);
              x += each.width;
            }
            expect(width).toBeCloseTo(x);
            expect(width).toBeLessThanOrEqual(Math.max(across, CLEF + 172) + 0.001);
          }
        },
      ),
    );
  });
});
