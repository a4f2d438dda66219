import { Abc, type EngraveRequest } from '#music';
import { RenderError, type Renderer } from './renderer.ts';

const SMALLEST = 'X:1\nT:One note\nM:1/4\nL:1/4\nK:C\nC|]\n';

function smallest(): EngraveRequest {
  const read = Abc.read(SMALLEST);
  const score = read.ok ? read.value[0] : undefined;
  if (!score) throw new Error('a single note is a tune');
  return { score, page: { width: 1180, textScale: 1, verse: 1 } };
}

/**
 * Has one note engraved, so that the thread runs and its fonts are loaded before the first sheet is asked for.
 * Never rejects: without it the first sheet only takes longer. `log` is told why it failed.
 */
export async function warmUp(renderer: Renderer, log: (line: string) => void): Promise<void> {
  try {
    await renderer.engrave(smallest());
  } catch (error) {
    if (error instanceof RenderError && error.code === 'closed') return;
    const reason = error instanceof Error ? error.message : String(error);
    log(`The engraver did not start ahead of time (${reason}); the first sheet starts it again.`);
  }
}
