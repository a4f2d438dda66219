import { SaxesParser } from 'saxes';

/** A note that an engraver has read, in quarters; syllables by verse, `-` behind those whose word goes on. */
export interface MeiNote {
  at: number;
  readonly length: number;
  readonly pitches: readonly string[];
  readonly tied: boolean;
  readonly words: Readonly<Record<number, string>>;
}

interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Node[];
  text: string;
}

function treeOf(xml: string): Node {
  const root: Node = { name: '', attributes: {}, children: [], text: '' };
  const open = [root];
  const parser = new SaxesParser();
  parser.on('opentag', ({ name, attributes }) => {
    const node: Node = { name, attributes, children: [], text: '' };
    open.at(-1)?.children.push(node);
    open.push(node);
  });
  parser.on('text', (text) => {
    const node = open.at(-1);
    if (node) node.text += text;
  });
  parser.on('closetag', () => open.pop());
  parser.write(xml).close();
  return root;
}

function all(node: Node, name: string): Node[] {
  return node.children.flatMap((each) => (each.name === name ? [each] : all(each, name)));
}

const SIGN: Readonly<Record<string, string>> = {
  s: '#',
  f: 'b',
  ss: '##',
  x: '##',
  ff: 'bb',
  n: '',
};

function pitchOf(note: Node): string {
  const { pname = '', oct = '', accid, 'accid.ges': sounding } = note.attributes;
  const own = note.children.find(({ name }) => name === 'accid')?.attributes;
  const sign = accid ?? sounding ?? own?.['accid'] ?? own?.['accid.ges'] ?? 'n';
  return `${pname.toUpperCase()}${SIGN[sign] ?? '?'}${note.attributes['oct.ges'] ?? oct}`;
}

/** A note value with its dots (MEI `dur`, `dots`), in quarters. */
function lengthOf(node: Node): number {
  const { dur = '4', dots = '0' } = node.attributes;
  const plain = dur === 'breve' ? 8 : 4 / Number(dur);
  return plain * (2 - 2 ** -Number(dots));
}

function wordsOf(note: Node): Record<number, string> {
  return Object.fromEntries(
    all(note, 'verse').map((verse) => {
      const [syl] = all(verse, 'syl');
      const position = syl?.attributes['wordpos'];
      const goesOn = position === 'i' || position === 'm';
      return [Number(verse.attributes['n']), `${syl?.text ?? ''}${goesOn ? '-' : ''}`];
    }),
  );
}

/**
 * The notes of every layer of every staff of an MEI file, from the top down, as the engraver understood them: where a
 * note stands follows from the values before it. Graces are left out.
 */
export function meiVoices(mei: string): MeiNote[][] {
  const tree = treeOf(mei);
  const tied = new Set(all(tree, 'tie').map(({ attributes }) => attributes['startid']?.slice(1)));
  const voices = new Map<string, MeiNote[]>();
  let start = 0;
  for (const measure of all(tree, 'measure')) {
    let longest = 0;
    for (const staff of all(measure, 'staff')) {
      for (const layer of all(staff, 'layer')) {
        const key = `${staff.attributes['n'] ?? ''} ${layer.attributes['n'] ?? ''}`;
        const notes = voices.get(key) ?? [];
        voices.set(key, notes);
        longest = Math.max(longest, readLayer(layer, start, notes, tied));
      }
    }
    start += longest;
  }
  const place = (key: string): number => {
    const [staff = 0, layer = 0] = key.split(' ').map(Number);
    return staff * 1000 + layer;
  };
  return [...voices].sort(([a], [b]) => place(a) - place(b)).map(([, notes]) => notes);
}

/** Adds the notes of a layer; how long it is. */
function readLayer(
  layer: Node,
  start: number,
  into: MeiNote[],
  tied: ReadonlySet<string | undefined>,
): number {
  let at = 0;
  const isTied = (note: Node): boolean => tied.has(note.attributes['xml:id']);
  const walk = (node: Node, ratio: number): void => {
    for (const each of node.children) {
      const { name, attributes } = each;
      const length = lengthOf(each) * ratio;
      if (attributes['grace'] !== undefined || name === 'graceGrp') continue;
      if (name === 'tuplet') {
        walk(each, (ratio * Number(attributes['numbase'])) / Number(attributes['num']));
      } else if (name === 'note' || name === 'chord') {
        const notes = name === 'chord' ? all(each, 'note') : [each];
        into.push({
          at: start + at,
          length,
          pitches: notes.map(pitchOf),
          tied: notes.some(isTied),
          words: wordsOf(each),
        });
        at += length;
      } else if (name === 'rest' || name === 'space') at += length;
      else if (name === 'beam') walk(each, ratio);
    }
  };
  walk(layer, 1);
  return at;
}
