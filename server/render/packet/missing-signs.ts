import type { PacketPage } from './pages.ts';
import type { Ink } from './ink.ts';

/** Every text of a value: of drawings only what is written in them. */
function* textsOf(value: unknown): Generator<string> {
  if (typeof value === 'string') {
    if (!value.startsWith('<svg')) yield value;
    else for (const [, text = ''] of value.matchAll(/>([^<]+)</g)) yield text;
  } else if (Array.isArray(value)) {
    for (const each of value) yield* textsOf(each);
  } else if (typeof value === 'object' && value !== null) {
    for (const each of Object.values(value)) yield* textsOf(each);
  }
}

/**
 * What a page says where the faces lack signs of it; empty: they have all. Asked before anything is drawn, so that it
 * stands on the page itself.
 */
export function missingSigns(ink: Ink, page: PacketPage): string[] {
  const before = new Set(ink.missing);
  ink.missing.clear();
  const text = [...textsOf(page)].join(' ');
  ink.width(text, { face: 'serif', size: 1 });
  const signs = [...ink.missing];
  for (const each of before) ink.missing.add(each);
  if (signs.length === 0) return [];
  const codes = signs.slice(0, 6).map((sign) => `U+${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`); // prettier-ignore
  const rest = signs.length > codes.length ? ' and others' : '';
  const many = signs.length === 1 ? 'One sign' : `${signs.length} signs`;
  return [
    `${many} of this sheet cannot be set in the letters that this packet is printed in (${codes.join(', ')}${rest}), and □ stands for each. Write them in by hand, or print this sheet from the stand.`,
  ];
}
