import { describe, expect, it } from 'vitest';
import { runningLines } from './running-lines.ts';

describe('The line above every printed page', () => {
  it('is a style sheet of named pages, and a title cannot break out of it', () => {
    const css = runningLines([
      { left: 'Say “Amen”', right: 'Ines' },
      { left: '"} * {\\', right: '' },
    ]);
    expect(css).toContain('@page sheet-0 { @top-left { content: "Say “Amen”";');
    expect(css).toContain('content: "\\"} * {\\\\";');
  });
});
