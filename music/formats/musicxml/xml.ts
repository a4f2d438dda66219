/** One XML element: its children are elements, or one text. */
export interface Xml {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string | number | undefined>>;
  readonly children: readonly Xml[] | string;
}

type Given = Xml | null | false | undefined | readonly Given[];

function flat(given: readonly Given[], into: Xml[] = []): Xml[] {
  for (const each of given) {
    if (!each) continue;
    if (Array.isArray(each)) flat(each as readonly Given[], into);
    else into.push(each as Xml);
  }
  return into;
}

/** An element with children; what is null or false is left out. */
export function el(
  name: string,
  attributes: Xml['attributes'] = {},
  ...children: readonly Given[]
): Xml {
  return { name, attributes, children: flat(children) };
}

/** An element that holds a text. */
export function text(
  name: string,
  content: string | number,
  attributes: Xml['attributes'] = {},
): Xml {
  return { name, attributes, children: String(content) };
}

const ENTITY: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
};

/** Escapes a text and leaves out what XML 1.0 does not allow at all (control characters, lone surrogates). */
export function escape(content: string): string {
  return content
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replace(/[&<>"]/g, (sign) => ENTITY[sign] ?? sign);
}

function attributesOf(xml: Xml): string {
  return Object.entries(xml.attributes)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => ` ${name}="${escape(String(value))}"`)
    .join('');
}

/** The element as text, two spaces a level, one element a line. */
export function serialise(xml: Xml, indent = ''): string {
  const open = `${indent}<${xml.name}${attributesOf(xml)}`;
  if (typeof xml.children === 'string') return `${open}>${escape(xml.children)}</${xml.name}>\n`;
  if (xml.children.length === 0) return `${open}/>\n`;
  const inner = xml.children.map((child) => serialise(child, indent + '  ')).join('');
  return `${open}>\n${inner}${indent}</${xml.name}>\n`;
}
