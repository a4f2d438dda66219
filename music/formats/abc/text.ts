/** Combining marks of ABC 2.1, section 8.2: `\'e` is é, `\"u` ü, `` \`a `` à. */
const MARKS: Readonly<Record<string, string>> = {
  '`': '\u0300',
  "'": '\u0301',
  '^': '\u0302',
  '~': '\u0303',
  '"': '\u0308',
  '=': '\u0304',
  c: '\u0327',
  v: '\u030C',
  u: '\u0306',
  r: '\u030A',
  H: '\u030B',
  ';': '\u0328',
  '.': '\u0307',
};
const LIGATURES: Readonly<Record<string, string>> = {
  ss: 'ß',
  AE: 'Æ',
  ae: 'æ',
  OE: 'Œ',
  oe: 'œ',
  '/O': 'Ø',
  '/o': 'ø',
  AA: 'Å',
  aa: 'å',
  DH: 'Ð',
  dh: 'ð',
  TH: 'Þ',
  th: 'þ',
};
const ENTITIES: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  nbsp: '\u00A0',
  copy: '©',
};
const ENTITY_MARKS: Readonly<Record<string, string>> = {
  grave: '\u0300',
  acute: '\u0301',
  circ: '\u0302',
  tilde: '\u0303',
  uml: '\u0308',
  cedil: '\u0327',
  caron: '\u030C',
};

/** Plain text from an ABC text string: escapes and named characters of ABC 2.1, section 8.2; the rest as it is. */
export function plain(text: string): string {
  if (!text.includes('\\') && !text.includes('&')) return text;
  return text
    .replace(/\\u([0-9a-fA-F]{4})/g, (_, hex: string) => String.fromCharCode(parseInt(hex, 16)))
    .replace(/\\(ss|AE|ae|OE|oe|\/O|\/o|AA|aa|DH|dh|TH|th)/g, (all, name: string) => {
      return LIGATURES[name] ?? all;
    })
    .replace(/\\([`'^~"=cvurH;.])([A-Za-z])/g, (all, mark: string, letter: string) => {
      const joined = (letter + (MARKS[mark] ?? '')).normalize('NFC');
      return joined.length === 1 ? joined : all;
    })
    .replace(/\\([%&\\])/g, '$1')
    .replace(/&([A-Za-z])([a-z]{2,6});/g, (all, letter: string, name: string) => {
      const mark = ENTITY_MARKS[name];
      if (mark) return (letter + mark).normalize('NFC');
      return ENTITIES[letter + name] ?? all;
    });
}

/** The inverse: whatever `plain` would take for an escape, and a comment sign, is escaped. */
export function escaped(text: string): string {
  return text.replace(/[\\&%\p{Cc}]/gu, (sign) => {
    return `\\u${(sign.codePointAt(0) ?? 0).toString(16).padStart(4, '0')}`;
  });
}
