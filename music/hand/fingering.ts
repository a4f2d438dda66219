/** Which finger on which key: notes held together, a line, a hand's whole part. */
export { ofShape } from './shape-fingering.ts';
export { ofLine, pointsOf } from './line-fingering.ts';
export type { LineFingering, LineOptions } from './line-fingering.ts';
export { CHORD_POINTS, CHORD_RULES } from './part-fingering-costs.ts';
export type { ChordRule, PartPoints, PartRule } from './part-fingering-costs.ts';
export { ofPart, pointsOfPart } from './part-fingering.ts';
export type { PartFingering, PartOptions } from './part-fingering.ts';
export { settledOfPart } from './part-fingering-settled.ts';
export type { SettledFingering } from './part-fingering-settled.ts';
