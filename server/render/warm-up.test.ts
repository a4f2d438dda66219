import { describe, expect, it } from 'vitest';
import { createRenderer, RenderError, type Renderer } from './renderer.ts';
import { warmUp } from './warm-up.ts';

function failing(error: Error): Renderer {
  return { engrave: () => Promise.reject(error), close: () => Promise.resolve() };
}

describe('warming the engraver up', () => {
  it('engraves one note with the real engraver, and says nothing', async () => {
    const renderer = createRenderer();
    const said: string[] = [];
    await warmUp(renderer, (line) => said.push(line));
    await renderer.close();
    expect(said).toEqual([]);
  }, 60_000);

  it('says why it failed and goes on', async () => {
    const said: string[] = [];
    await warmUp(failing(new RenderError('crashed', 'no memory')), (line) => said.push(line));
    expect(said).toEqual([
      'The engraver did not start ahead of time (no memory); the first sheet starts it again.',
    ]);
  });

  it('is silent where the server closes meanwhile', async () => {
    const said: string[] = [];
    await warmUp(failing(new RenderError('closed', 'closed')), (line) => said.push(line));
    expect(said).toEqual([]);
  });
});
