import { beforeAll, describe, expect, it } from 'vitest';
import {
  ChordSymbol,
  Intervals,
  Keys,
  QUARTER,
  Transpose,
  type Chord,
  type Interval,
  type Key,
  type Score,
} from '#music';
import { buildScore } from '#test/support/score-builder.ts';
import { makeEngraver, type Engraver } from '#test/support/verovio.ts';

/**
 * Independent reference: the engraving library Verovio 6.3.0 transposes by its own arithmetic. It is given a small
 * MusicXML file that is written here, not by the program, and an interval by name; notes, chord symbols and key
 * signatures are read from its MEI.
 */
let engraver: Engraver;
beforeAll(async () => {
  engraver = await makeEngraver();
});

const LETTERS = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
/** Every letter flat, natural and sharp, over two octaves. */
const CHROMATIC = LETTERS.flatMap((letter, i) =>
  ['b', '', '#'].map((sign, j) => `${letter}${sign}${3 + ((i + j) % 2)}`),
);

function chord(text: string): Chord {
  const read = ChordSymbol.read(text);
  if (!read.ok) throw new Error(text);
  return read.value;
}

/** A song that uses its key: the scale, the notes around it, the dominant of its dominant over its third. */
function song(key: Key, notes: readonly string[], change: Key | null): Score {
  const fifth = Intervals.transposeNote(key.tonic, { steps: 4, semitones: 7 });
  const second = Intervals.transposeNote(key.tonic, { steps: 1, semitones: 2 });
  const third = Intervals.transposeNote(fifth, { steps: 2, semitones: 4 });
  return buildScore({
    key: Keys.writeKey(key),
    meter: `${notes.length}/4`,
    voices: { tune: [...notes, '|', ...notes].join(' ') },
    keyChanges: change ? [[notes.length, Keys.writeKey(change)]] : [],
    chords: [
      [0, chord(`${fifth}7/${third}`)],
      [2, chord(`${second}dim7`)],
    ],
  });
}

function stepAndAlter(name: string, step: string, alter: string): string {
  const signs = name.slice(1).replace(/\d/, '');
  const value = signs.startsWith('b') ? -signs.length : signs.length;
  return `<${step}>${name.charAt(0)}</${step}><${alter}>${value}</${alter}>`;
}

/** The least that Verovio needs: divisions of a quarter, one part, one voice. */
function musicXml(score: Score): string {
  const voice = score.voices[0];
  const bars = score.bars.map((bar, index) => {
    const key = score.keys.find((each) => each.at === bar.at);
    const attributes = key
      ? `<attributes><divisions>1</divisions><key><fifths>${key.signature}</fifths><mode>${key.key.mode}</mode></key></attributes>`
      : '';
    const notes = (voice?.notes ?? []).filter((n) => n.at >= bar.at && n.at < bar.at + bar.length);
    const written = notes.map((note) => {
      const at = score.chords.find((each) => each.at === note.at)?.chord;
      const bass = at?.bass
        ? `<bass>${stepAndAlter(at.bass, 'bass-step', 'bass-alter')}</bass>`
        : '';
      const harmony = at
        ? `<harmony><root>${stepAndAlter(at.root, 'root-step', 'root-alter')}</root><kind>${at.kind}</kind>${bass}</harmony>`
        : '';
      const pitch = note.pitches[0] ?? '';
      return `${harmony}<note><pitch>${stepAndAlter(pitch, 'step', 'alter')}<octave>${pitch.slice(-1)}</octave></pitch><duration>${note.length / QUARTER}</duration><type>quarter</type></note>`;
    });
    return `<measure number="${index + 1}">${attributes}${written.join('')}</measure>`;
  });
  return `<?xml version="1.0"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1">${bars.join('')}</part></score-partwise>`;
}

interface Read {
  readonly notes: readonly string[];
  readonly roots: readonly string[];
  readonly signatures: readonly number[];
}

const SIGNS: Readonly<Record<string, string>> = {
  n: '',
  s: '#',
  f: 'b',
  ss: '##',
  x: '##',
  ff: 'bb',
  ts: '###',
  xs: '###',
  sx: '###',
  tf: 'bbb',
};

function readMei(mei: string): Read {
  const notes = [...mei.matchAll(/<note ([^>]*?)(?:\/>|>(.*?)<\/note>)/gsu)].map((match) => {
    const text = `${match[1] ?? ''} ${match[2] ?? ''}`;
    const value = (name: string) => new RegExp(`\\b${name}="([^"]*)"`).exec(text)?.[1];
    const sign = SIGNS[value('accid\\.ges') ?? value('accid') ?? 'n'];
    return `${(value('pname') ?? '').toUpperCase()}${sign ?? '?'}${value('oct') ?? ''}`;
  });
  const plain = (text: string) =>
    text.replaceAll('♯', '#').replaceAll('♭', 'b').replaceAll('𝄪', '##').replaceAll('𝄫', 'bb');
  const roots = [...mei.matchAll(/<harm [^>]*>([^<]*)<\/harm>/gu)].map((match) => {
    const [symbol = '', bass = ''] = plain(match[1] ?? '').split('/');
    return `${/^[A-G][#b]*/.exec(symbol)?.[0] ?? '?'}/${bass}`;
  });
  const signatures = [...mei.matchAll(/<keySig ([^>]*)>/gu)].map((match) => {
    const sig = /\bsig="(\d+)([sf])"/.exec(match[1] ?? '');
    return sig ? Number(sig[1]) * (sig[2] === 's' ? 1 : -1) : 0;
  });
  return { notes, roots, signatures };
}

function ours(score: Score): Read {
  return {
    notes: score.voices[0]?.notes.map((note) => note.pitches[0] ?? '') ?? [],
    roots: score.chords.map(({ chord: at }) => `${at?.root ?? ''}/${at?.bass ?? ''}`),
    signatures: score.keys.map((key) => key.signature),
  };
}

/** `-M2`, `A4`, as Verovio names an interval. */
function verovioName(interval: Interval): string {
  const down = interval.semitones < 0;
  const { steps, semitones } = down ? Intervals.reverse(interval) : interval;
  const major = [0, 2, 4, 5, 7, 9, 11][steps] ?? 0;
  const perfect = [0, 3, 4].includes(steps);
  const off = semitones - major;
  const quality =
    off === 0 ? (perfect ? 'P' : 'M') : off === 1 ? 'A' : perfect || off < -1 ? 'd' : 'm';
  return `${down ? '-' : ''}${quality}${steps + 1}`;
}
function theirs(score: Score, interval: Interval): Read {
  engraver.setOptions({ transpose: verovioName(interval) });
  if (!engraver.loadData(musicXml(score))) throw new Error('Verovio refused the file');
  return readMei(engraver.getMEI({}));
}

describe('Transposing agrees with Verovio', () => {
  it('on every one of 21 notes from C to the other keys, up and down: 462 spellings', () => {
    const source = song({ tonic: 'C', mode: 'major' }, CHROMATIC, null);
    let spellings = 0;
    for (const to of Keys.keysToOffer('major')) {
      if (to.tonic === 'C') continue;
      for (const direction of ['up', 'down'] as const) {
        const interval = Transpose.interval({ tonic: 'C', mode: 'major' }, to, direction);
        const moved = Transpose.score(source, to, { direction });
        expect(ours(moved)).toEqual(theirs(source, interval));
        spellings += moved.voices[0]?.notes.length ?? 0;
      }
    }
    expect(spellings / 2).toBe(462);
  });

  it.each(['major', 'minor', 'dorian'] as const)(
    'from every %s key to every other: scale, leading notes, chords, signature, a key change inside',
    (mode) => {
      const keys = Keys.keysToOffer(mode);
      let compared = 0;
      let respelled = 0;
      for (const from of keys) {
        const scale = Keys.scaleOf(from);
        const raise = (note: string) => Intervals.transposeNote(note, { steps: 0, semitones: 1 });
        const raised = [scale[3], scale[6]].map((note) => raise(note ?? 'C'));
        const notes = [...scale, ...raised].map((note) => `${note}4`);
        const fifth = Keys.keyOfSignature(Keys.signatureOf(from) + 1, mode);
        const source = song(from, notes, fifth);
        for (const to of keys) {
          if (to.tonic === from.tonic) continue;
          const moved = Transpose.score(source, to);
          const interval = Transpose.interval(from, to);
          const there = theirs(source, interval);
          // What Verovio writes with eight sharps is respelled here, that stretch alone: see the unit tests.
          if (there.signatures.some((signature) => Math.abs(signature) > 7)) {
            respelled += 1;
            continue;
          }
          expect([from.tonic, to.tonic, ours(moved)]).toEqual([from.tonic, to.tonic, there]);
          compared += 1;
        }
      }
      expect({ compared, respelled }).toEqual({ compared: 132, respelled: 0 });
    },
    60_000,
  );

  it('with the double sharp of the dominant of G sharp minor', () => {
    const source = song({ tonic: 'A', mode: 'minor' }, ['A4', 'G#4', 'D#4'], null);
    const moved = Transpose.score(source, { tonic: 'G#', mode: 'minor' });
    expect(ours(moved).notes.slice(0, 3)).toEqual(['G#4', 'F##4', 'C##4']);
    expect(moved.chords.map((at) => at.chord && ChordSymbol.write(at.chord))).toEqual([
      'D#7/F##',
      'A#dim7',
    ]);
  });
});
