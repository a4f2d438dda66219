/** An element of a file that is read: with its children or its text, and the line where it begins. */
export interface XmlNode {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlNode[];
  readonly text: string;
  readonly line: number;
}

export function child(node: XmlNode, name: string): XmlNode | undefined {
  return node.children.find((each) => each.name === name);
}

export function childrenOf(node: XmlNode, name: string): XmlNode[] {
  return node.children.filter((each) => each.name === name);
}

/** The text of a child without the spaces round it; empty where there is none. */
export function textOf(node: XmlNode, name: string): string {
  return child(node, name)?.text.trim() ?? '';
}

/** A text as a number; null where it is none. */
export function numberIn(text: string): number | null {
  const trimmed = text.trim();
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(trimmed)) return null;
  return Number(trimmed);
}

export function numberOf(node: XmlNode, name: string): number | null {
  return numberIn(textOf(node, name));
}
