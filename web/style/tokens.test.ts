import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/** Relative luminance and contrast ratio as WCAG 2.2 defines them (w3.org/TR/WCAG22, "relative luminance"). */
function luminance(hex: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5]
    .map((at) => parseInt(hex.slice(at, at + 2), 16) / 255)
    .map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].toSorted((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

const css = readFileSync('web/style/tokens.css', 'utf8');

function tokensOf(block: string): Record<string, string> {
  return Object.fromEntries(
    [...block.matchAll(/--(\w+): (#[0-9a-f]{6});/g)].map(([, name = '', hex = '']) => [name, hex]),
  );
}

const blocks = css
  .split('}')
  .map(tokensOf)
  .filter((tokens) => 'paper' in tokens);
const [paper, vestryChosen, vestryByDevice, print] = blocks;

describe('Contrast', () => {
  it('is judged by a ratio that WCAG gives: black on white is 21, #777777 on white 4.48', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });

  it('has the same dark tokens whether chosen or from the device', () => {
    expect(vestryByDevice).toEqual(vestryChosen);
  });

  it.each([
    ['paper', paper],
    ['vestry', vestryChosen],
    ['print', print],
  ])('on %s: ink ≥ 7, faint ink ≥ 4.5, rubric ≥ 7 against the ground', (_, tokens) => {
    const ratio = (name: string) => contrast(tokens?.[name] ?? '', tokens?.['paper'] ?? '');
    expect(ratio('ink')).toBeGreaterThanOrEqual(7);
    expect(ratio('faint')).toBeGreaterThanOrEqual(4.5);
    expect(ratio('rubric')).toBeGreaterThanOrEqual(7);
  });

  it.each([
    ['paper', paper],
    ['vestry', vestryChosen],
  ])('on %s: the ground is readable on ink and on rubric (pressed buttons)', (_, tokens) => {
    expect(contrast(tokens?.['paper'] ?? '', tokens?.['ink'] ?? '')).toBeGreaterThanOrEqual(4.5);
    expect(contrast(tokens?.['paper'] ?? '', tokens?.['rubric'] ?? '')).toBeGreaterThanOrEqual(4.5);
  });
});
