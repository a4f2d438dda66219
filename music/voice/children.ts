import type { Range } from './range.ts';

/**
 * What is written about children's ranges. They differ a great deal from child to child and change within months, so
 * this is a place to start listening from, never a target.
 */
export interface ChildrenGuideline {
  readonly id: string;
  /** `Kindergarten`, `Grade 6`. */
  readonly who: string;
  readonly range: Range;
  /** Where the tune should mostly lie, where the source says so. */
  readonly tessitura: Range | null;
  readonly source: string;
}

const range = (low: string, high: string): Range => ({ low, high });
const KENAI = 'Kenai Peninsula Borough School District, K–6 music guidelines';
const CHARTS = "yamspace.org 2015, its author's summary of charts";
const ESSAY = 'michaeljthom.com, a student course essay';

export const CHILDREN: readonly ChildrenGuideline[] = [
  {
    id: 'preschool',
    who: 'Preschool',
    range: range('E4', 'E5'),
    tessitura: null,
    source: CHARTS,
  },
  {
    id: 'kindergarten',
    who: 'Kindergarten; one note more each grade',
    range: range('C4', 'A4'),
    tessitura: null,
    source: KENAI,
  },
  {
    id: 'grade-1',
    who: 'Grade 1',
    range: range('C4', 'B4'),
    tessitura: range('D4', 'B4'),
    source: ESSAY,
  },
  {
    id: 'younger-school',
    who: 'Younger school children',
    range: range('C4', 'F5'),
    tessitura: null,
    source: CHARTS,
  },
  {
    id: 'classroom',
    who: 'A class in practice; older children up to F5',
    range: range('D4', 'D5'),
    tessitura: null,
    source: 'forum.musicasacra.com 2439, an elementary specialist',
  },
  {
    id: 'grade-6',
    who: 'Grade 6',
    range: range('G3', 'G5'),
    tessitura: range('B3', 'D5'),
    source: ESSAY,
  },
  {
    id: 'ten-to-change',
    who: 'From ten until the voice changes',
    range: range('A3', 'A5'),
    tessitura: null,
    source: CHARTS,
  },
];
