/** An SVG as a tree: enough for the plain, well-formed text that the engraver writes. */
export interface SvgElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly SvgNode[];
}
/** A string is text as it stands in the source, entities and all. */
export type SvgNode = SvgElement | string;

const TOKEN =
  /<!--.*?-->|<\?.*?\?>|<(\/?)([\w:-]+)((?:\s+[\w:-]+\s*=\s*"[^"]*")*)\s*(\/?)>|([^<]+)/gs;
const ATTRIBUTE = /([\w:-]+)\s*=\s*"([^"]*)"/g;

interface Open {
  name: string;
  attributes: Record<string, string>;
  children: SvgNode[];
}

/** The root element of an SVG text; throws where the text is not well-formed. */
export function parseSvg(source: string): SvgElement {
  const stack: Open[] = [{ name: '', attributes: {}, children: [] }];
  for (const match of source.matchAll(TOKEN)) {
    const [, closing, name, attributes, selfClosing, content] = match;
    const top = stack.at(-1) as Open;
    if (content !== undefined) {
      if (content.trim() !== '' || top.name === 'tspan') top.children.push(content);
    } else if (name === undefined) {
      continue;
    } else if (closing) {
      const done = stack.pop();
      if (done?.name !== name) throw new SyntaxError(`</${name}> closes <${done?.name ?? ''}>`);
      (stack.at(-1) as Open).children.push(done);
    } else {
      const element: Open = { name, attributes: {}, children: [] };
      for (const [, key, value] of (attributes ?? '').matchAll(ATTRIBUTE)) {
        element.attributes[key as string] = value as string;
      }
      if (selfClosing) top.children.push(element);
      else stack.push(element);
    }
  }
  const root = stack[0]?.children.find((child) => typeof child !== 'string');
  if (stack.length !== 1 || !root) throw new SyntaxError('the SVG ends before its elements do');
  return root;
}

export function writeSvg(node: SvgNode): string {
  if (typeof node === 'string') return node;
  const attributes = Object.entries(node.attributes)
    .map(([key, value]) => ` ${key}="${value}"`)
    .join('');
  if (node.children.length === 0) return `<${node.name}${attributes}/>`;
  return `<${node.name}${attributes}>${node.children.map(writeSvg).join('')}</${node.name}>`;
}

/** Every element below, in document order. */
export function* descendants(element: SvgElement): Generator<SvgElement> {
  for (const child of element.children) {
    if (typeof child === 'string') continue;
    yield child;
    yield* descendants(child);
  }
}

/** All text of an element and below. */
export function textOf(node: SvgNode): string {
  return typeof node === 'string' ? node : node.children.map(textOf).join('');
}
