import type { Engraved, EngraveRequest } from '#music';

export interface Job {
  readonly id: number;
  readonly request: EngraveRequest;
}

/** `ready` comes once, before every answer. */
export type WorkerSays =
  | { readonly kind: 'ready' }
  | { readonly kind: 'done'; readonly id: number; readonly engraved: Engraved }
  | { readonly kind: 'failed'; readonly id: number; readonly message: string };
