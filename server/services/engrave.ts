import type { Engraved, EngraveRequest } from '#music';
import { RenderError, type Renderer } from '../render/renderer.ts';
import { Refusal } from './refusal.ts';

export type { Renderer };

/** Engraves, or says in words why not now. A score that the engraver refuses is a fault of ours and goes on as one. */
export async function engrave(renderer: Renderer, request: EngraveRequest): Promise<Engraved> {
  try {
    return await renderer.engrave(request);
  } catch (error) {
    if (!(error instanceof RenderError) || error.code === 'refused') throw error;
    const why =
      error.code === 'busy' ? 'Many sheets are being engraved' : 'The engraver had to start anew';
    throw new Refusal('engraver-busy', `${why}. Nothing is lost; ask for this sheet again.`);
  }
}
