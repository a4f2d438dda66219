import { parseMidi } from 'midi-file';
import { describe, expect, it } from 'vitest';
import {
  Abc,
  Form,
  Keys,
  KeysOfForm,
  MusicXml,
  PartFiles,
  Parts,
  QUARTER,
  type ArrangedPass,
  type Part,
  type Player,
  type Score,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { heardTracks, type HeardNote } from '#test/support/midi-heard.ts';
import { schemaErrors } from '#test/support/musicxml-schema.ts';

/*
 * A key change inside a song, held against what others hear and read: MIDI by midi-file 1.2.4, MusicXML by the W3C's schema.
 * A half step is one key of the piano, so a pass that is raised by n has every note n numbers higher, at the same moments.
 */

const UPS = [1, 2, -2, 5] as const;
const ROLES = [
  { role: 'keys', level: 'beginner' },
  { role: 'keys', level: 'advanced' },
  { role: 'bass', level: 'intermediate' },
  { role: 'lead voice', level: 'beginner' },
] as const satisfies readonly Pick<Player, 'role' | 'level'>[];

function partOf(
  song: Score,
  form: readonly ArrangedPass[],
  { role, level }: Pick<Player, 'role' | 'level'>,
  key = song.keys[0]?.key ?? { tonic: 'C', mode: 'major' as const },
): Part {
  const player: Player = { id: 'p', name: 'Ines', role, level, reach: 12 };
  const arrangement = { key, tempo: null, density: 'bar', form } as const;
  const built = Parts.build(song, arrangement, player, { roles: ['keys', 'lead voice'] });
  if (!built.ok) throw new Error(built.problems[0]?.message);
  return built.value;
}

const played = (song: Score): readonly ArrangedPass[] =>
  Form.passesOf(song).map(({ pass }) => pass);
/** Every pass from a place on is raised. */
const raisedFrom = (song: Score, from: number, up: number): ArrangedPass[] =>
  played(song).map((pass, i) => (i >= from ? { ...pass, up } : pass));
const lead = ROLES[3];

/** What the singers sing, in every pass of the form. */
function sung(part: Part): readonly HeardNote[] {
  const tracks = heardTracks(PartFiles.midi(part, { passes: 'form' }));
  return tracks.find(({ name }) => name === 'Singer')?.notes ?? [];
}

/** Where a pass begins when the whole song is sung without an introduction. */
const beginsAt = (song: Score, index: number): number =>
  Form.unfold(song).find((stretch) => stretch.index === index)?.playedAt ?? NaN;

/** Notes from a moment on so many half steps higher. */
const higher = (notes: readonly HeardNote[], from: number, up: number): HeardNote[] =>
  notes.map((note) => (note.at < from ? note : { ...note, midi: note.midi + up }));

describe('A last pass that is raised', () => {
  it.each(HYMN_FILES)('%s: is sung so many half steps higher, all else as before', (file) => {
    const song = hymn(file);
    const last = song.form.length - 1;
    const plain = sung(partOf(song, played(song), lead));
    expect(plain.length).toBeGreaterThan(0);
    for (const up of UPS) {
      const part = partOf(song, raisedFrom(song, last, up), lead);
      expect(sung(part), `${up}`).toEqual(higher(plain, beginsAt(song, last), up));
    }
  });

  it.each(HYMN_FILES)('%s: has full bars, and its key where its copy begins', (file) => {
    const song = hymn(file);
    const home = song.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
    UPS.forEach((up, i) => {
      const who = ROLES[i] ?? lead;
      const { score } = partOf(song, raisedFrom(song, song.form.length - 1, up), who);
      for (const voice of score.voices) {
        for (const { at, length } of score.bars) {
          const notes = voice.notes.filter((note) => note.at >= at && note.at < at + length);
          expect(notes.reduce((sum, note) => sum + note.length, 0)).toBe(length);
        }
      }
      const copy = score.sections.find((section) => section.up === up);
      const entry = score.keys.find(({ at }) => at === copy?.from);
      // Half steps on the circle of fifths: seven fifths are one (common practice).
      const fifths = (Keys.signatureOf(entry?.key ?? home) - Keys.signatureOf(home)) % 12;
      expect(Math.abs((fifths - 7 * up) % 12), `${up} half steps`).toBe(0);
      expect(Math.abs(entry?.signature ?? 9)).toBeLessThanOrEqual(6);
    });
  });
});

describe('A song all of whose passes are raised', () => {
  it.each(HYMN_FILES)('%s: is the song in that key', (file) => {
    const song = hymn(file);
    const home = song.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
    UPS.forEach((up, i) => {
      const who = ROLES[i] ?? lead;
      const key = KeysOfForm.raisedKey(home, up);
      const raised = partOf(song, raisedFrom(song, 0, up), who);
      const there = partOf(song, played(song), who, key);
      const notes = ({ score }: Part) =>
        score.voices.map((voice) => voice.notes.map(({ at, length, pitches, fingers, syllables }) => ({ at, length, pitches, fingers, syllables }))); // prettier-ignore
      expect(notes(raised), `${who.role} ${up}`).toEqual(notes(there));
      expect(raised.score.chords.map(({ at, chord }) => ({ at, chord }))).toEqual(
        there.score.chords.map(({ at, chord }) => ({ at, chord })),
      );
    });
  });
});

/** [moment in quarters, sharps or minus flats] of every signature in a MIDI file. */
function signaturesIn(bytes: Uint8Array): [number, number][] {
  const { header, tracks } = parseMidi(bytes);
  return tracks.flatMap((events) => {
    let at = 0;
    return events.flatMap((event): [number, number][] => {
      at += event.deltaTime;
      return event.type === 'keySignature' ? [[at / (header.ticksPerBeat ?? NaN), event.key]] : [];
    });
  });
}

describe('Files of parts with a raised last pass', () => {
  const made = HYMN_FILES.slice(0, 8).map((file, i) => {
    const song = hymn(file);
    const up = UPS[i % UPS.length] ?? 1;
    return partOf(
      song,
      raisedFrom(song, song.form.length - 1, up),
      ROLES[i % ROLES.length] ?? lead,
    );
  });

  it('are valid by the schema of MusicXML 4.0, and are read again with their keys', async () => {
    const files = made.map((part) => PartFiles.musicXml(part, { name: 'Ines' }));
    expect(await schemaErrors(Object.fromEntries(files.map((xml, i) => [`${i}.musicxml`, xml])))).toEqual([]); // prettier-ignore
    for (const [i, part] of made.entries()) {
      const read = MusicXml.read(files[i] ?? '');
      if (!read.ok) throw new Error(read.problems[0]?.message);
      const signatures = ({ keys }: Score) => keys.map(({ at, signature }) => [at, signature]);
      expect(signatures(read.value)).toEqual(signatures(part.score));
      expect(read.value.sections.at(-1)?.name).toMatch(/^(Verse|Refrain).*, in [A-G][♯♭]? (major|minor|dorian)$/); // prettier-ignore
    }
  });

  it('change their key in MIDI where they do on paper', () => {
    for (const part of made) {
      const signatures = part.score.keys.map(({ at, signature }) => [at / QUARTER, signature]);
      expect(signatures.length).toBe(2);
      expect(signaturesIn(PartFiles.midi(part))).toEqual(signatures);
    }
  });
});

/** A tune of its own with signs that jump, as ABC. */
function tune(music: string, words: readonly string[]): Score {
  const lines = ['X:1', 'T:A tune', 'M:4/4', 'L:1/4', 'K:C', music, ...words.map((line) => `w: ${line}`)]; // prettier-ignore
  const read = Abc.read(`${lines.join('\n')}\n`);
  const score = read.ok ? read.value[0] : undefined;
  if (!score) throw new Error('not read');
  return score;
}

describe('Repeats and endings of a section that is raised in one pass', () => {
  const VERSE = 'a b c d e f g h i j k l m n o p';
  it.each([
    ['a repeat inside each pass', '|:"C"CDEF|"G"GABG:|"C"c4|]', 9],
    ['two endings inside each pass', '|:"C"CDEF|1"G"GABG:|2"C"c4|]', 7],
    ['no start of the repeat', '"C"CDEF|"G"GABG:|"C"c4|]', 9],
  ])('%s: is played as it was', (_, music) => {
    const song = tune(music, []);
    const [section] = song.sections;
    if (!section) throw new Error('a section');
    const pass = { section: section.id, verse: null };
    for (const ups of [
      [0, 0, 2],
      [0, 2, 0],
      [2, 0, 2],
      [0, 2, 2, 0],
    ]) {
      const form = ups.map((up): ArrangedPass => (up === 0 ? pass : { ...pass, up }));
      const plain = sung(
        partOf(
          song,
          form.map(() => pass),
          lead,
        ),
      );
      const raised = sung(partOf(song, form, lead));
      const starts = ups.map((_each, i) => beginsAt({ ...song, form }, i));
      const upAt = (at: number): number => ups[starts.findLastIndex((each) => each <= at)] ?? 0;
      expect(raised).toEqual(plain.map((note) => ({ ...note, midi: note.midi + upAt(note.at) })));
    }
  });

  it('an ending for each verse: each keeps its own', () => {
    const song = tune('"C"CDEF|1"G"GABG:|2"C"c4|]', [VERSE, VERSE]);
    expect(song.form.map(({ verse }) => verse)).toEqual([1, 2]);
    const form = [song.form[0], { ...song.form[1], up: 2 }] as ArrangedPass[];
    const plain = sung(partOf(song, played(song), lead));
    expect(sung(partOf(song, form, lead))).toEqual(higher(plain, beginsAt(song, 1), 2));
  });
});
