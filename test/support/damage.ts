import { pick, type Chance } from '#test/support/chance.ts';

/** What reading a damaged text must come to. */
export type Outcome =
  /** Read, with a warning that the whole text has not. */
  | 'told'
  /** No score at all: a note lost or lengthened in one voice leaves nothing to place the others by. */
  | 'refused'
  /** The same score as from the whole text. */
  | 'same'
  /** Anything but an exception or a hang. */
  | 'value';

export interface Damage {
  readonly what: string;
  readonly outcome: Outcome;
  readonly make: (text: string, chance: Chance) => string | Uint8Array;
}

/** The lines of music of a hymn, by number from 0. */
function musicLines(lines: readonly string[]): number[] {
  return lines.flatMap((line, i) => (line.startsWith('[V:') ? [i] : []));
}

/** Changes one line of music at one of the places where a pattern fits. */
function inMusic(pattern: RegExp, change: (found: string) => string) {
  return (text: string, chance: Chance): string => {
    const lines = text.split('\n');
    const fitting = musicLines(lines).filter((i) => pattern.test(musicOf(lines[i] ?? '')));
    const at = pick(chance, fitting);
    const line = lines[at] ?? '';
    const head = line.length - musicOf(line).length;
    const places = [...line.matchAll(new RegExp(pattern.source, 'g'))].filter(
      (found) => found.index >= head,
    );
    const place = pick(chance, places);
    lines[at] =
      line.slice(0, place.index) + change(place[0]) + line.slice(place.index + place[0].length);
    return lines.join('\n');
  };
}

/** A line without its `[V: …]` and `[Q:…]`. */
function musicOf(line: string): string {
  return line.replace(/^(\[[A-Z]:[^\]]*\]\s*)+/, '');
}

function withLine(find: RegExp, put: string) {
  return (text: string): string => text.replace(find, put);
}

function latin1(text: string): Uint8Array {
  return Uint8Array.from(text, (sign) => sign.charCodeAt(0));
}

export const DAMAGES: readonly Damage[] = [
  {
    what: 'cut off in the middle of the music',
    outcome: 'refused',
    make: (text, chance) => {
      const lines = text.split('\n');
      const at = pick(chance, musicLines(lines));
      const line = lines[at] ?? '';
      const cut = line.length - Math.floor(chance() * (musicOf(line).length - 4)) - 4;
      return [...lines.slice(0, at), line.slice(0, cut)].join('\n');
    },
  },
  { what: 'no K: line', outcome: 'refused', make: withLine(/^K:.*\n/m, '') },
  { what: 'no X: line', outcome: 'told', make: withLine(/^X:.*\n/m, '') },
  { what: 'a key that is none', outcome: 'refused', make: withLine(/^K:.*$/m, 'K: Q#zz') },
  { what: 'a meter that is none', outcome: 'refused', make: withLine(/^M:.*$/m, 'M: 3/5') },
  { what: 'a unit note of 1/0', outcome: 'refused', make: withLine(/^L:.*$/m, 'L: 1/0') },
  {
    what: 'a chord that is not closed',
    outcome: 'refused',
    make: inMusic(/ [A-Ga-g]/, (note) => ` [${note.trim()}`),
  },
  {
    what: 'a slur that is not closed',
    outcome: 'told',
    make: inMusic(/ [A-Ga-g]/, (note) => ` (${note.trim()}`),
  },
  {
    what: 'a slur that is not opened',
    outcome: 'told',
    make: inMusic(/[A-Ga-g],*\d* /, (note) => `${note.trim()}) `),
  },
  {
    what: 'grace notes that are not closed',
    outcome: 'refused',
    make: inMusic(/ [A-Ga-g]/, (note) => ` {${note.trim()}`),
  },
  {
    what: 'a quote that is not closed',
    outcome: 'refused',
    make: inMusic(/ [A-Ga-g]/, (note) => ` "${note.trim()}`),
  },
  {
    what: 'a sign without its second !',
    outcome: 'told',
    make: inMusic(/!sintro!/, () => '!sintro'),
  },
  {
    what: 'a field inside the line without ]',
    outcome: 'told',
    make: withLine(/^\[V: *S1(V1)?\]/m, '[V: S1$1 '),
  },
  {
    what: 'random bytes in the music',
    outcome: 'told',
    make: (text, chance) => {
      const bytes = Array.from({ length: 6 }, () =>
        String.fromCharCode(128 + Math.floor(chance() * 128)),
      );
      return latin1(
        inMusic(/ [A-Ga-g]/, (note) => ` ${bytes.join('')}${note.trim()}`)(text, chance),
      );
    },
  },
  {
    what: 'a NUL character in the music',
    outcome: 'told',
    make: inMusic(/ [A-Ga-g]/, (note) => ` \0${note.trim()}`),
  },
  { what: 'a bar line deleted', outcome: 'told', make: inMusic(/ \| /, () => ' ') },
  {
    what: 'a bar line too many',
    outcome: 'told',
    make: inMusic(/[A-Ga-g],*2? [A-Ga-g]/, (notes) => notes.replace(' ', ' | ')),
  },
  {
    what: 'a note twice as long',
    outcome: 'refused',
    make: inMusic(/ [A-Ga-g],* /, (note) => ` ${note.trim()}2 `),
  },
  { what: 'a note deleted', outcome: 'refused', make: inMusic(/ [A-Ga-g],*\d? /, () => ' ') },
  {
    what: 'a line of one voice dropped',
    outcome: 'refused',
    make: (text, chance) => {
      const lines = text.split('\n');
      const at = pick(chance, musicLines(lines));
      return lines.filter((_, i) => i !== at).join('\n');
    },
  },
  {
    what: 'a voice nobody announced',
    outcome: 'refused',
    make: (text, chance) => {
      const lines = text.split('\n');
      const at = pick(chance, musicLines(lines));
      lines[at] = (lines[at] ?? '').replace(/^\[V: *\w+\]/, '[V: Kazoo]');
      return lines.join('\n');
    },
  },
  {
    what: 'a tuplet that is none',
    outcome: 'refused',
    make: inMusic(/ [A-Ga-g]/, (note) => ` (99:0:7${note.trim()}`),
  },
  {
    what: 'twenty thousand slurs inside each other',
    outcome: 'told',
    make: inMusic(/ [A-Ga-g]/, (note) => ` ${'('.repeat(20_000)}${note.trim()}`),
  },
  {
    what: 'twenty thousand chords inside each other',
    outcome: 'refused',
    make: inMusic(/ [A-Ga-g]/, (note) => ` ${'['.repeat(20_000)}${note.trim()}`),
  },
  {
    what: 'a length of 99999999999',
    outcome: 'refused',
    make: inMusic(/ [A-Ga-g],*/, (note) => `${note}99999999999`),
  },
  {
    what: 'a length over 0',
    outcome: 'refused',
    make: inMusic(/ [A-Ga-g],*/, (note) => `${note}/0`),
  },
  {
    what: 'a line of seventy thousand notes',
    outcome: 'refused',
    make: inMusic(/ [A-Ga-g]/, (note) => ` ${'C '.repeat(70_000)}${note.trim()}`),
  },
  {
    what: 'words before any music',
    outcome: 'told',
    make: (text) => {
      const words = /^w:.*$/m.exec(text)?.[0] ?? '';
      return text.replace(/^K:.*$/m, (key) => `${key}\n${words}`);
    },
  },
  {
    what: 'more words than notes',
    outcome: 'told',
    make: (text) => text.replace(/^w:.*$/m, (line) => `${line} and on and on and on`),
  },
  {
    what: 'a tie to another note',
    outcome: 'refused',
    make: (text) =>
      text
        .replace(/ G\S*( \| )?/, (found) => `${found} `)
        .replace(/^(\[V: *S1V2\].*?[A-Ga-g],*\d?)( )/m, '$1-_c$2'),
  },
  {
    what: 'two songs glued together',
    outcome: 'told',
    make: (text) => `${text.trimEnd()}\n${text.slice(text.indexOf('\nT:') + 1)}`,
  },
  {
    what: 'two neighbouring lines swapped',
    outcome: 'value',
    make: (text, chance) => {
      const lines = text.split('\n');
      const at = Math.floor(chance() * (lines.length - 1));
      const [a = '', b = ''] = lines.slice(at, at + 2);
      return [...lines.slice(0, at), b, a, ...lines.slice(at + 2)].join('\n');
    },
  },
  {
    what: 'all lines in any order',
    outcome: 'value',
    make: (text, chance) => {
      const keyed = text.split('\n').map((line) => ({ line, key: chance() }));
      return keyed
        .sort((a, b) => a.key - b.key)
        .map(({ line }) => line)
        .join('\n');
    },
  },
  {
    what: 'a hole of up to sixty characters',
    outcome: 'value',
    make: (text, chance) => {
      const at = Math.floor(text.indexOf('X:') + chance() * (text.length - text.indexOf('X:')));
      return text.slice(0, at) + text.slice(at + 1 + Math.floor(chance() * 60));
    },
  },
  {
    what: 'every thirtieth byte another one',
    outcome: 'value',
    make: (text, chance) =>
      latin1(text).map((byte) => (chance() < 1 / 30 ? Math.floor(chance() * 256) : byte)),
  },
  { what: 'nothing in it', outcome: 'refused', make: () => '' },
  { what: 'only spaces and line ends', outcome: 'refused', make: () => ' \n\t\n \r\n' },
  {
    what: 'lines that end with CR and LF',
    outcome: 'same',
    make: (text) => text.replaceAll('\n', '\r\n'),
  },
  { what: 'lines that end with CR', outcome: 'same', make: (text) => text.replaceAll('\n', '\r') },
  { what: 'a byte order mark', outcome: 'same', make: (text) => `\uFEFF${text}` },
];
