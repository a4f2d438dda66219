import { describe, expect, it } from 'vitest';
import { read, same } from './written.ts';

/** Each row is one meter as people write it. Names: the article “Metre (hymn)” of the English Wikipedia; forms: from memory. */
const SAME: readonly (readonly string[])[] = [
  ['8.6.8.6', '86.86', '8686', '8 6 8 6', '8-6-8-6', '8,6,8,6', 'CM', 'C.M.', 'C. M.', 'Common Meter', 'common metre', 'CM (8.6.8.6)', '8.6.8.6 (C.M.)'], // prettier-ignore
  ['8.8.8.8', '88.88', 'LM', 'L.M.', 'Long Metre', '8s'],
  ['6.6.8.6', '66.86', 'SM', 'S. M.', 'Short Meter'],
  ['8.6.8.6.8.6.8.6', '8.6.8.6 D', '86.86.D', '8686D', 'CMD', 'C.M.D.', 'DCM', 'CM D', 'CM doubled', 'Common Meter Double', 'Double Common Metre'], // prettier-ignore
  ['8.8.8.8.8.8.8.8', 'LMD', 'L.M.D.', 'LM Double'],
  ['6.6.8.6.6.6.8.6', 'SMD', 'S.M.D.', '66.86 D'],
  ['8.8.6.8.8.6', 'CPM', 'C.P.M.', '886.886', '8.8.6 D', '886 D'],
  ['6.6.6.6.8.8', 'HM', 'H.M.', '66.66.88', '6.6.6.6.4.4.4.4', 'Hallelujah Metre'],
  ['8.6.8.8.6', 'CME'],
  ['8.7.8.7 D', '87.87.D', '8787D', '8.7.8.7.D.', '8.7.8.7 doubled', '8.7.8.7.8.7.8.7'],
  ['10.10.10.10', '10 10 10 10', '1010 1010', '10 10.10 10', '1010.1010', '10101010', '10-10-10-10', '10s'], // prettier-ignore
  ['11.10.11.10', '11 10 11 10', '1110 1110', '1110.1110', '11,10,11,10', '11 10. 11 10'],
  ['11.12.12.10', '11 12 12 10', '11121210', '1112.1210'],
  ['12.11.12.11', '1211.1211', '12 11.12 11'],
  ['11.11.11.11', '1111 1111', '11s', '11’s'],
  ['10.10.10.4', '10 10 10 4', '1010104', '10.10.10 4'],
  ['10.10.11.11', '1010.1111', '10 10 11 11'],
  ['14.14.4.7.8', '14 14 4 7 8', '1414478'],
  ['8.8.8.8 with refrain', 'LM with refrain', 'L.M. and refrain', '88.88 ref.', '88.88 w. chorus', 'Long Meter with Refrain'], // prettier-ignore
  ['7.7.7.7 with alleluias', '77.77 with Alleluia', '7777 alleluias', '7s with hallelujahs', '77.77 and Alleluias'], // prettier-ignore
  ['8.8.8.8 with alleluias and refrain', 'LM with refrain and alleluias'],
  ['7.6.7.6 D with refrain', '76.76 D ref', '7676D with Refrain'],
  ['10.10.10 with alleluia', '10 10 10 with Alleluias'],
];

/** What fits nothing, not even itself. */
const ITS_OWN = ['Irregular', 'Irr.', 'irregular with refrain', 'Peculiar', 'P.M.', 'PM', '8.7.8.7 irregular', 'LM, irregular', 'various', '', 'Amazing Grace', '8.1.8', '0', '20.20', '8.7 8.0', 'XM']; // prettier-ignore

describe('hymn meters as they are written', () => {
  const all = SAME.flatMap((forms, meter) => forms.map((form) => ({ form, meter })));

  it.each(SAME.map((forms) => ({ first: forms[0], forms })))('$first in all its ways', ({ forms }) => {
    for (const form of forms) expect(read(form), form).toEqual(read(forms[0] ?? ''));
    expect(read(forms[0] ?? '')).not.toBe(null);
  }); // prettier-ignore

  it('are the same where they are one meter, and nowhere else', () => {
    for (const one of all) {
      for (const other of all) {
        const said = `${one.form} and ${other.form}`;
        expect(same(one.form, other.form), said).toBe(one.meter === other.meter);
      }
    }
  });

  it('fit nothing where they are irregular, peculiar or not known', () => {
    for (const text of ITS_OWN) {
      expect(same(text, text), text).toBe(false);
      for (const { form } of all) expect(same(text, form), `${text} and ${form}`).toBe(false);
    }
    expect(same(null, null)).toBe(false);
    expect(same(null, 'CM')).toBe(false);
  });

  it('have the lines that their figures say', () => {
    expect(read('11 12.12 10')).toEqual({ lines: [11, 12, 12, 10], beside: [] });
    expect(read('SMD with refrain')).toEqual({
      lines: [6, 6, 8, 6, 6, 6, 8, 6],
      beside: ['refrain'],
    });
  });
});
