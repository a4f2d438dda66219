import type { GuidelineId, Range, RoomShares } from '#music';
import { fromJsonOrNull } from './scope.ts';

export type DemoState = 'offered' | 'kept' | 'cleared';

export interface StoredTeam {
  readonly id: string;
  readonly name: string;
  /** What became of the demo; null: this team began without one. */
  readonly demo: DemoState | null;
  /** How the congregation sings: a guideline's id or a range as printed; null: the usual guideline. */
  readonly congregation: GuidelineId | Range | null;
  /** null: the usual shares. */
  readonly room: RoomShares | null;
  readonly version: number;
}

export const TEAM_COLUMNS = {
  id: true,
  name: true,
  demo: true,
  congregation: true,
  room: true,
  version: true,
} as const;

interface TeamRow extends Pick<StoredTeam, 'id' | 'name' | 'version'> {
  readonly demo: string | null;
  readonly congregation: string | null;
  readonly room: string | null;
}

export function teamOf(row: TeamRow): StoredTeam {
  return {
    ...row,
    demo: row.demo as DemoState | null,
    congregation: fromJsonOrNull<GuidelineId | Range>(row.congregation),
    room: fromJsonOrNull<RoomShares>(row.room),
  };
}
