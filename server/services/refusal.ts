import type { Problem } from '#music';
import type { ProblemCode } from '../contract/problems.ts';

export interface RefusalFacts {
  readonly problems?: readonly (Problem & { readonly field?: string })[];
  /** several-tunes: their titles. */
  readonly tunes?: readonly string[];
}

/** A use case that cannot be done, and why. Thrown, so that the transaction around it is rolled back. */
export class Refusal extends Error {
  readonly code: ProblemCode;
  readonly facts: RefusalFacts;

  /** `detail`: what happened and what to do, in a sentence or two for a person. */
  constructor(code: ProblemCode, detail: string, facts: RefusalFacts = {}) {
    super(detail);
    this.name = 'Refusal';
    this.code = code;
    this.facts = facts;
  }
}
