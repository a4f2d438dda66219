/** What stands on paper above every page of a sheet. */
export interface RunningLine {
  readonly left: string;
  readonly right: string;
}

/** A text between quotes in a style sheet (CSS Syntax 3, 4.3.5: a quote, a backslash or a new line must be escaped). */
function quoted(text: string): string {
  return `"${text.replace(/[\\"]/g, '\\$&').replace(/\s+/g, ' ')}"`;
}

const font = 'color: #444444; font: 9pt sans-serif; vertical-align: bottom; padding-bottom: 2mm;';

/** Named pages with their lines, as a style sheet: `sheet-0` for the first sheet. */
export function runningLines(lines: readonly RunningLine[]): string {
  return lines
    .map(
      ({ left, right }, index) =>
        `@page sheet-${index} { @top-left { content: ${quoted(left)}; ${font} } @top-right { content: ${quoted(right)}; ${font} } }`,
    )
    .join('\n');
}

/** Puts them above the pages that are printed from now on, until what is returned is called. */
export function adoptRunningLines(lines: readonly RunningLine[]): () => void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(runningLines(lines));
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
  return () => {
    const others = document.adoptedStyleSheets.filter((each) => each !== sheet);
    document.adoptedStyleSheets = others;
  };
}
