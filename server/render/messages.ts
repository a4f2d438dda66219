import type { Engraved, EngraveRequest } from '#music';

export interface Job {
  readonly id: number;
  readonly request: EngraveRequest;
}

export type JobAnswer =
  | { readonly id: number; readonly ok: true; readonly engraved: Engraved }
  | { readonly id: number; readonly ok: false; readonly message: string };
