/** Which key suits which voice, and what each key costs everyone. */
export { table } from './fit-table.ts';
export { front, SUGGESTION_ORDER } from './fit-front.ts';
export { rowsOf } from './fit-ends.ts';
export { leadOf, voicesOf } from './fit-voices.ts';
export { VERDICTS } from './fit-row.ts';
export type {
  EndsRow,
  Fit,
  FitRow,
  KeyFitOptions,
  KeyFitTable,
  SectionFit,
  Verdict,
  VoiceRow,
} from './fit-row.ts';
export type {
  Cost,
  Dominated,
  DroppedKey,
  FrontOptions,
  FrontRow,
  HandCost,
  KeyFitFront,
  Suggestion,
} from './fit-front.ts';
