/** How hard moves are: one move, the moves of a song in order, a whole plan to compare keys by. */
export { ofMove } from './move-difficulty.ts';
export type { DifficultyItem, DifficultyKind, MoveDifficulty, Pace } from './move-difficulty.ts';
export { rank } from './difficulty-rank.ts';
export type { PlayedMove, RankedMove } from './difficulty-rank.ts';
export { compare, ofHands, ofPlan } from './plan-difficulty.ts';
export type { PlanDifficulty, PlannedHands } from './plan-difficulty.ts';
export { UNHURRIED_SECONDS, WEIGHTS } from './difficulty-weights.ts';
