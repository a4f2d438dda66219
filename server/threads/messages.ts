/** What a thread is sent. */
export interface Job<Request> {
  readonly id: number;
  readonly request: Request;
}

/** What it answers to a job. */
export type JobAnswer<Answer> =
  | { readonly id: number; readonly ok: true; readonly value: Answer }
  | { readonly id: number; readonly ok: false; readonly message: string };

/** What it says once, when it has started. */
export interface Ready {
  readonly ready: true;
}
