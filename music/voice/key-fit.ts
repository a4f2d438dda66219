/** Which key suits which voice, and what each key costs everyone. */
export { table } from './fit-table.ts';
export { front, SUGGESTION_ORDER } from './fit-front.ts';
export { along, byPitch, semitonesOf, trade, type Trade } from './fit-walk.ts';
export { rowsOf, worstOf } from './fit-ends.ts';
export { leadOf, voicesOf } from './fit-voices.ts';
export { demands } from './fit-demands.ts';
export { sayBar, sayBars, sayOctaves, saySeconds } from './fit-demand-words.ts';
export { sayVerdict } from './fit-costs.ts';
export { sayBeats } from './say-beats.ts';
export { passes } from './fit-passes.ts';
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
export type { DemandsOf, DemandsOptions } from './fit-demands.ts';
export type {
  Asked,
  Demands,
  Leap,
  LongestPhrase,
  LongNotes,
  NoteInVoice,
  Place,
  SectionAsked,
} from './fit-asked.ts';
export type { KeyChange, PassesFit, PassFit, VoiceInPass } from './fit-passes.ts';
