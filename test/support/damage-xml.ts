import { strToU8, zipSync, type Zippable } from 'fflate';
import { integer, pick, type Chance } from '#test/support/chance.ts';
import type { Damage } from '#test/support/damage.ts';

/** A written score in an archive as MusicXML 4.0 describes it ("Compressed .mxl files"), or nearly so. */
function archive(xml: string | Uint8Array, name = 'score.musicxml', rootfile = name): Uint8Array {
  const container = `<container><rootfiles><rootfile full-path="${rootfile}"/></rootfiles></container>`;
  return zipSync({
    'META-INF/container.xml': strToU8(container),
    [name]: typeof xml === 'string' ? strToU8(xml) : xml,
  });
}

/** Puts something in the place of one of the matches of a pattern. */
function replaceOne(
  text: string,
  chance: Chance,
  pattern: RegExp,
  put: (found: string) => string,
): string {
  const found = pick(chance, [...text.matchAll(new RegExp(pattern.source, 'g'))]);
  const { index } = found;
  return text.slice(0, index) + put(found[0]) + text.slice(index + found[0].length);
}

const one =
  (pattern: RegExp, put: (found: string) => string) =>
  (text: string, chance: Chance): string =>
    replaceOne(text, chance, pattern, put);

/** The document with another DOCTYPE, and a use of its entity in the first title. */
const withDoctype = (doctype: string, entity: string) => (text: string) =>
  text.replace(/<!DOCTYPE[^>]*>/, doctype).replace(/<work-title>[^<]*/, `<work-title>${entity}`);

const LAUGHS = Array.from(
  { length: 12 },
  (_, i) => `<!ENTITY l${String(i + 1)} "${`&l${String(i)};`.repeat(10)}">`,
).join('');

/** Some bytes of what was made, each another one. */
function flipped(bytes: Uint8Array, chance: Chance, share: number): Uint8Array {
  return bytes.map((byte) => (chance() < share ? Math.floor(chance() * 256) : byte));
}

const inserted = (text: string, chance: Chance, what: string): string => {
  const at = integer(chance, text.indexOf('<part '), text.length - 1);
  return text.slice(0, at) + what + text.slice(at);
};

let bomb: Uint8Array | null = null;
/** Forty million spaces in forty thousand bytes. */
function spaces(): Uint8Array {
  bomb ??= archive(new Uint8Array(40_000_000).fill(32));
  return bomb;
}

/** Changes a field of the table of contents: of every entry, at its place behind the signature. */
function inContents(bytes: Uint8Array, at: number, values: readonly number[]): Uint8Array {
  const changed = bytes.slice();
  for (let i = 0; i + 46 < changed.length; i += 1) {
    const isEntry = changed[i] === 0x50 && changed[i + 1] === 0x4b && changed[i + 2] === 1;
    if (isEntry && changed[i + 3] === 2) changed.set(values, i + at);
  }
  return changed;
}

/** Made once: an archive of two hundred million letters takes longer to make than to refuse. */
let letters: Uint8Array | null = null;

function manyFiles(count: number, content: Uint8Array): Uint8Array {
  const files: Zippable = {};
  for (let i = 0; i < count; i += 1) files[`${String(i)}.xml`] = content;
  return zipSync(files, { level: 1 });
}

const TEXT_DAMAGES: readonly Damage[] = [
  {
    what: 'cut off somewhere in the music',
    outcome: 'refused',
    make: (text, chance) =>
      text.slice(0, integer(chance, text.indexOf('<part '), text.length - 20)),
  },
  {
    what: 'every thirtieth byte another one',
    outcome: 'refused',
    make: (text, chance) => flipped(strToU8(text), chance, 1 / 30),
  },
  {
    what: 'five bytes others',
    outcome: 'value',
    make: (text, chance) => flipped(strToU8(text), chance, 5 / text.length),
  },
  {
    what: 'an entity that XML does not know',
    outcome: 'refused',
    make: one(/<text>/, (found) => `${found}&eacute;`),
  },
  {
    what: 'entities that make a billion of one',
    outcome: 'refused',
    make: withDoctype(`<!DOCTYPE score-partwise [<!ENTITY l0 "lol">${LAUGHS}]>`, '&l12;'),
  },
  {
    what: 'an entity that is a file of this machine',
    outcome: 'refused',
    make: withDoctype(
      '<!DOCTYPE score-partwise [<!ENTITY x SYSTEM "file:///etc/hostname">]>',
      '&x;',
    ),
  },
  {
    what: 'an entity that is to be fetched',
    outcome: 'refused',
    make: withDoctype(
      '<!DOCTYPE score-partwise [<!ENTITY % x SYSTEM "http://localhost:1/x.dtd"> %x;]>',
      '&y;',
    ),
  },
  {
    what: 'a hundred thousand elements inside each other',
    outcome: 'refused',
    make: one(/<measure [^>]*>/, (found) => found + '<a>'.repeat(100_000)),
  },
  {
    what: 'an element with a hundred thousand attributes',
    outcome: 'refused',
    make: one(/<measure /, (found) => {
      const many = Array.from({ length: 100_000 }, (_, i) => `a${String(i)}="1"`);
      return `${found}${many.join(' ')} `;
    }),
  },
  {
    what: 'an attribute of two million letters',
    outcome: 'refused',
    make: one(/<measure /, (found) => `${found}width="${'1'.repeat(2_000_000)}" `),
  },
  {
    what: 'a text of three million letters',
    outcome: 'refused',
    make: one(/<text>/, (found) => found + 'la '.repeat(1_000_000)),
  },
  {
    what: 'a text of six million letters',
    outcome: 'refused',
    make: one(/<text>/, (found) => found + 'la '.repeat(2_000_000)),
  },
  {
    what: 'four hundred thousand notes of nothing',
    outcome: 'refused',
    make: one(/<\/measure>/, (found) => '<note/>'.repeat(400_000) + found),
  },
  {
    what: 'another encoding than it says',
    outcome: 'value',
    make: (text) => strToU8(text.replace('UTF-8', 'UTF-16')),
  },
  {
    what: 'no sign of NUL, but it is there',
    outcome: 'refused',
    make: (text, chance) => inserted(text, chance, '\0\0\0'),
  },
  {
    what: 'a bar twice in one part',
    outcome: 'value',
    make: one(/<measure [\s\S]*?<\/measure>/, (found) => found + found),
  },
  {
    what: 'a bar less in one part',
    outcome: 'value',
    make: one(/<measure [\s\S]*?<\/measure>/, () => ''),
  },
  {
    what: 'a length below nothing',
    outcome: 'refused',
    make: one(/<duration>/, (found) => `${found}-`),
  },
  {
    what: 'a length of nothing',
    outcome: 'refused',
    make: one(/<\/(?:pitch|rest)>\s*<duration>\d+/, (found) => found.replace(/\d+$/, '0')),
  },
  {
    what: 'a length of a quadrillion',
    outcome: 'refused',
    make: one(/<duration>\d+/, (found) => found + '0'.repeat(15)),
  },
  {
    what: 'divisions of a trillion',
    outcome: 'refused',
    make: one(/<divisions>\d+/, () => '<divisions>1000000000000'),
  },
  {
    what: 'divisions of nothing',
    outcome: 'refused',
    make: one(/<divisions>\d+/, () => '<divisions>0'),
  },
  {
    what: 'no divisions',
    outcome: 'value',
    make: one(/<divisions>\d+<\/divisions>/, () => ''),
  },
  {
    what: 'a note in the hundredth octave',
    outcome: 'refused',
    make: one(/<octave>\d+/, () => '<octave>100'),
  },
  {
    what: 'a note twenty times sharp',
    outcome: 'refused',
    make: one(/<\/step>/, (found) => `${found}<alter>20</alter>`),
  },
  {
    what: 'a step back less',
    outcome: 'value',
    make: one(/<backup>[\s\S]*?<\/backup>/, () => ''),
  },
  {
    what: 'a step back too far',
    outcome: 'refused',
    make: one(/<backup>\s*<duration>\d+/, (found) => `${found}0`),
  },
  {
    what: 'a meter of 17 over 5',
    outcome: 'value',
    make: (text) =>
      text.replace(/<beats>\d+<\/beats>\s*<beat-type>\d+/, '<beats>17</beats><beat-type>5'),
  },
  {
    what: 'an element that is closed by another',
    outcome: 'refused',
    make: one(/<\/pitch>/, () => '</pitfall>'),
  },
  {
    what: 'an attribute twice',
    outcome: 'refused',
    make: one(/<measure /, (found) => `${found}width="1" width="2" `),
  },
  {
    what: 'a comment that does not end',
    outcome: 'refused',
    make: (text, chance) => inserted(text.replaceAll('-->', ''), chance, '<!--'),
  },
  {
    what: 'a stretch of anything that does not end',
    outcome: 'refused',
    make: one(/<text>/, (found) => `${found}<![CDATA[`),
  },
  {
    what: 'document rules of its own',
    outcome: 'told',
    make: withDoctype('<!DOCTYPE score-partwise [<!ELEMENT score-partwise ANY>]>', 'A song'),
  },
  {
    what: 'a thousand parts',
    outcome: 'refused',
    make: (text) => {
      const part = (id: number): string => `<part id="Q${String(id)}"><measure number="1"/></part>`;
      return text.replace(
        '</score-partwise>',
        `${Array.from({ length: 1000 }, (_, i) => part(i)).join('')}</score-partwise>`,
      );
    },
  },
  {
    what: 'ten thousand bars more in one part',
    outcome: 'refused',
    make: one(/<\/part>/, (found) => '<measure number="7"/>'.repeat(10_000) + found),
  },
  {
    what: 'a web page',
    outcome: 'refused',
    make: () => '<?xml version="1.0"?><html><body><p>Not here</p></body></html>',
  },
  { what: 'nothing in it', outcome: 'refused', make: () => '' },
  { what: 'a root and nothing else', outcome: 'refused', make: () => '<score-partwise/>' },
  {
    what: 'UTF-16 with its mark',
    outcome: 'same',
    make: (text) => {
      const codes = Uint16Array.from(`\uFEFF${text}`, (sign) => sign.charCodeAt(0));
      return new Uint8Array(codes.buffer);
    },
  },
  { what: 'a byte order mark', outcome: 'same', make: (text) => strToU8(`\uFEFF${text}`) },
  {
    what: 'lines that end with CR and LF',
    outcome: 'same',
    make: (text) => text.replaceAll('\n', '\r\n'),
  },
];

const ARCHIVE_DAMAGES: readonly Damage[] = [
  {
    what: 'an archive that is cut off',
    outcome: 'refused',
    make: (text, chance) => {
      const bytes = archive(text);
      return bytes.subarray(0, integer(chance, 2, bytes.length - 23));
    },
  },
  {
    what: 'an archive with other bytes here and there',
    outcome: 'value',
    make: (text, chance) => {
      const bytes = flipped(archive(text), chance, 1 / 500);
      bytes.set([0x50, 0x4b]);
      return bytes;
    },
  },
  {
    what: 'an archive with one other byte in the score',
    outcome: 'refused',
    make: (text, chance) => {
      const bytes = archive(text);
      const at = integer(chance, 300, bytes.length - 400);
      bytes[at] = (bytes[at] ?? 0) ^ integer(chance, 1, 255);
      return bytes;
    },
  },
  { what: 'an archive of forty million spaces', outcome: 'refused', make: () => spaces() },
  {
    what: 'a hundred files of two million letters each',
    outcome: 'refused',
    make: () => (letters ??= manyFiles(100, new Uint8Array(2_000_000).fill(97))),
  },
  {
    what: 'sizes before packing that are lies',
    outcome: 'same',
    make: (text) => inContents(archive(text), 24, [255, 255, 255, 127]),
  },
  {
    what: 'packed sizes that are lies',
    outcome: 'refused',
    make: (text) => inContents(archive(text), 20, [255, 255, 255, 127]),
  },
  {
    what: 'places that are lies',
    outcome: 'refused',
    make: (text, chance) => inContents(archive(text), 42, [integer(chance, 1, 255), 1, 0, 0]),
  },
  {
    what: 'a lock on its files',
    outcome: 'refused',
    make: (text) => inContents(archive(text), 8, [1, 0]),
  },
  {
    what: 'a way of packing that nobody knows',
    outcome: 'refused',
    make: (text) => inContents(archive(text), 10, [99, 0]),
  },
  {
    what: 'a score whose name climbs out of its folder',
    outcome: 'same',
    make: (text) => archive(text, '../../../etc/score.xml'),
  },
  {
    what: 'a container that names a file that is not there',
    outcome: 'told',
    make: (text) => archive(text, 'score.xml', 'other.xml'),
  },
  {
    what: 'a container that is no XML',
    outcome: 'told',
    make: (text) => zipSync({ 'META-INF/container.xml': strToU8('<<<'), 'a.xml': strToU8(text) }),
  },
  {
    what: 'an archive in an archive',
    outcome: 'refused',
    make: (text) => zipSync({ 'score.mxl': archive(text), 'inner.zip': archive(text) }),
  },
  {
    what: 'an archive of five hundred files',
    outcome: 'refused',
    make: (text) => manyFiles(500, strToU8(text.slice(0, 100))),
  },
  {
    what: 'an archive of nothing',
    outcome: 'refused',
    make: () => zipSync({}),
  },
];

/** Damage to a score written as MusicXML: to its text, and to the archive that it comes in. */
export const XML_DAMAGES: readonly Damage[] = [...TEXT_DAMAGES, ...ARCHIVE_DAMAGES];
