import { beforeAll, describe, expect, it } from 'vitest';
import {
  MusicXml,
  Midi,
  PartFiles,
  Parts,
  Pitches,
  QUARTER,
  type Part,
  type Player,
  type Score,
  type Voice,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { heardChannels, heardTracks, sounding, type HeardPedal } from '#test/support/midi-heard.ts';
import { meiVoices } from '#test/support/mei-voices.ts';
import { schemaErrors } from '#test/support/musicxml-schema.ts';
import { buildScore } from '#test/support/score-builder.ts';
import { makeEngraver, type Engraver } from '#test/support/verovio.ts';

/*
 * Files of parts, read by others: MIDI by midi-file 1.2.4, MusicXML by the W3C's schema and by Verovio 6.3.0. None shares
 * code with ours.
 */

const PLAYERS: readonly Pick<Player, 'role' | 'rungs'>[] = [
  { role: 'keys', rungs: { pedal: 1 } },
  { role: 'keys', rungs: { right: 4, left: 3, texture: 6, pedal: 1 } },
  { role: 'keys', rungs: { right: 2, left: 4, texture: 6, pedal: 1 } },
  { role: 'bass' },
  { role: 'lead voice' },
];
const TEXTURES = ['held', 'answered', 'every beat', 'swaying', 'broken', 'leading'] as const;
const TONICS = ['C', 'F', 'Eb', 'A', 'Db', 'E'] as const;

interface Made {
  readonly name: string;
  readonly player: Player;
  readonly part: Part;
}

/** Every hymn for each player, in a key and with textures that go on from one hymn to the next. */
function partsOf(file: string, place: number): Made[] {
  const score: Score = hymn(file);
  const own = score.keys[0]?.key ?? { tonic: 'C', mode: 'major' };
  return PLAYERS.map(({ role, rungs }, i) => {
    const tonic = place % 2 === 0 ? own.tonic : (TONICS[(place + i) % TONICS.length] ?? 'C');
    const form = score.form.map((pass, k) => ({
      ...pass,
      texture: TEXTURES[(place + k) % TEXTURES.length] ?? 'held',
    }));
    const player: Player = {
      id: 'p',
      name: 'Ines',
      role,
      level: 'beginner',
      reach: 12,
      ...(rungs && { rungs }),
    };
    const arrangement = { key: { ...own, tonic }, tempo: null, density: 'bar', form } as const;
    const built = Parts.build(score, arrangement, player, { roles: ['keys', 'lead voice'] });
    if (!built.ok) throw new Error(`${file}: ${built.problems[0]?.message ?? ''}`);
    return {
      name: `${file} ${role} ${JSON.stringify(rungs ?? {})} ${tonic}`,
      player,
      part: built.value,
    };
  });
}

const made = HYMN_FILES.flatMap(partsOf);
const withPedal = made.filter(({ player }) => player.rungs?.pedal === 1);
const voiceOf = ({ part }: Made, id: string): Voice => {
  const voice = part.score.voices.find((each) => each.id === id);
  if (!voice) throw new Error(`no voice ${id}`);
  return voice;
};

describe('MIDI of a part, heard by midi-file', () => {
  it('has every note of every voice at its moment, in tracks by name', () => {
    for (const { name, part } of made) {
      const tracks = heardTracks(PartFiles.midi(part)).filter(({ channel }) => channel >= 0);
      const names = part.score.voices.map((voice) =>
        voice.group === 'Singer' ? 'Singer' : voice.name,
      );
      expect(
        tracks.slice(0, names.length).map((track) => track.name),
        name,
      ).toEqual(names);
      expect(
        tracks.slice(0, names.length).map(({ notes }) => notes),
        name,
      ).toEqual(part.score.voices.map(sounding));
    }
    const named = new Set(
      made.flatMap(({ part }) => heardTracks(PartFiles.midi(part)).map(({ name }) => name)),
    );
    expect([...named]).toEqual(
      expect.arrayContaining(['Right hand', 'Left hand', 'Bass', 'Singer']),
    );
  });

  it('sounds as a piano, a bass and voices (General MIDI 1, sound set: 1, 33 and 53, in the file from 0)', () => {
    for (const { part } of made) {
      const wanted = { Keyboard: [0], Bass: [32], Singer: [52] } as Record<string, number[]>;
      const channels = heardChannels(PartFiles.midi(part));
      part.score.voices.forEach(({ group }, i) => {
        expect(channels[i + 1]?.programs).toEqual(wanted[group]);
      });
    }
  });

  it('has the pedal up at each mark once the new notes sound, down a little later, and up at the end', () => {
    let changes = 0;
    for (const each of withPedal) {
      const { name, part } = each;
      const channels = heardChannels(PartFiles.midi(part));
      const [right, left] = ['Right hand', 'Left hand'].map((hand) => channels.find((channel) => channel.name === hand)); // prettier-ignore
      if (!right || !left) throw new Error('two hands');
      expect(right.pedal, name).toEqual(left.pedal);
      const expected = marksOf(each);
      expect(left.pedal.filter(({ isDown }) => isDown).length, name).toBe(
        expected.filter(({ pedal }) => pedal !== 'up').length,
      );
      let foot: HeardPedal | undefined;
      for (const move of left.pedal) {
        expect(move.isDown, `${name}: up and down in turn`).toBe(!(foot?.isDown ?? false));
        if (move.isDown) {
          // The last mark before it: it came no earlier than the chord, and while every note of the chord is still held.
          const mark = expected.findLast(({ at }) => at < move.at);
          if (!mark) throw new Error(`${name}: down without a chord`);
          expect(move.at - mark.at, name).toBeLessThanOrEqual(QUARTER / 8);
          expect(move.at - mark.at, name).toBeLessThanOrEqual(mark.shortest / 2);
          changes += 1;
        } else {
          const isMark = expected.some(({ at }) => at === move.at);
          expect(isMark || move === left.pedal.at(-1), name).toBe(true);
          const here = left.order.get(move.at) ?? [];
          expect(here.lastIndexOf('pedal'), name).toBeGreaterThan(here.lastIndexOf('on'));
        }
        foot = move;
      }
      expect(foot?.isDown, `${name}: the last is released`).toBe(false);
    }
    expect(changes).toBeGreaterThan(500);
  });

  it('has it in every pass of the form too, never down through a jump, and released at the end', () => {
    for (const { name, part } of withPedal) {
      const left = heardChannels(PartFiles.midi(part, { passes: 'form' })).find((each) => each.name === 'Left hand'); // prettier-ignore
      const isDown = left?.pedal.map((move) => move.isDown) ?? [];
      expect(isDown.length, name).toBeGreaterThan(0);
      expect(isDown, name).toEqual(isDown.map((_, i) => i % 2 === 0));
      expect(isDown.at(-1), name).toBe(false);
    }
  });

  it('lets go, or presses anew, where the form jumps', () => {
    const plain = buildScore({
      key: 'C',
      meter: '4/4',
      voices: { a: 'C4:4 | D4:4 | E4:4 | F4:4' },
    });
    const pedals = ['down', 'up', undefined, 'down'] as const;
    const sections = plain.bars.map(({ at, length }, i) => ({ id: `s${String(i)}`, kind: 'other' as const, name: `S${String(i)}`, from: at, to: at + length })); // prettier-ignore
    const heard = (form: readonly number[]) => {
      const voices = plain.voices.map((voice) => ({
        ...voice,
        notes: voice.notes.map((note, i) => ({ ...note, ...(pedals[i] && { pedal: pedals[i] }) })),
      }));
      const passes = form.map((i) => ({ section: `s${String(i)}`, verse: null }));
      const bytes = Midi.write({ ...plain, sections, voices, form: passes }, { passes: 'form' });
      const [pedal = []] = heardChannels(bytes).map((each) => each.pedal).filter((each) => each.length > 0); // prettier-ignore
      return pedal.map(({ at, isDown }) => `${String(at / QUARTER)} ${isDown ? 'down' : 'up'}`);
    };
    expect(heard([0, 1, 2, 3])).toEqual(['0.125 down', '4 up', '12.125 down', '16 up']);
    // Into a section that has none, and is not told so where it is printed.
    expect(heard([0, 2])).toEqual(['0.125 down', '4 up']);
    expect(heard([3, 0, 3])).toEqual(['0.125 down', '4 up', '4.125 down', '8 up', '8.125 down', '12 up']); // prettier-ignore
  });

  it('strikes soft notes more softly than all others of their hand', () => {
    let soft = 0;
    for (const { name, part } of withPedal) {
      const right = heardChannels(PartFiles.midi(part)).find((each) => each.name === 'Right hand');
      const softly = new Set(
        part.score.voices.flatMap(({ id, notes }) =>
          id === 'right' ? notes.filter((note) => note.soft).map(({ at }) => at) : [],
        ),
      );
      for (const { at, velocity } of right?.struck ?? []) {
        expect(velocity, name).toBe(softly.has(at) ? 54 : 76);
        if (softly.has(at)) soft += 1;
      }
    }
    expect(soft).toBeGreaterThan(50);
  });

  it('has the count and the click beside it, and the singers in every pass', () => {
    const [first] = made;
    if (!first) throw new Error('a part');
    const tracks = heardTracks(PartFiles.midi(first.part, { countIn: true, click: true, passes: 'form' })); // prettier-ignore
    expect(tracks.map(({ name }) => name)).toEqual(expect.arrayContaining(['Count-in', 'Click']));
    const once = heardTracks(PartFiles.midi(first.part)).find(({ name }) => name === 'Singer');
    const all = tracks.find(({ name }) => name === 'Singer');
    const passes = first.part.score.form.filter(({ verse }) => verse !== null).length;
    expect(passes).toBeGreaterThan(1);
    expect(all?.notes.length).toBe((once?.notes.length ?? 0) * passes);
  });
});

/** Marks of both hands with the shortest note that is struck there. */
function marksOf(each: Made) {
  const notes = [...voiceOf(each, 'left').notes, ...voiceOf(each, 'right').notes];
  return notes
    .filter(({ pedal }) => pedal !== undefined)
    .sort((a, b) => a.at - b.at)
    .map(({ at, pedal }) => {
      const here = notes.filter((note) => note.at === at && note.pitches.length > 0);
      return { at, pedal, shortest: Math.min(...here.map(({ length }) => length)) };
    });
}

describe('MusicXML of a part', () => {
  let engraver: Engraver;
  beforeAll(async () => {
    engraver = await makeEngraver();
  });

  it('is valid by the schema of MusicXML 4.0', async () => {
    const files = Object.fromEntries(
      made.map(({ part, player }, i) => [
        `${String(i)}.musicxml`,
        PartFiles.musicXml(part, player),
      ]),
    );
    expect(await schemaErrors(files)).toEqual([]);
  });

  it('is read again with all that the part has: notes, fingers, pedal, soft notes, words', () => {
    for (const { name, part, player } of made) {
      const written = PartFiles.scoreOf(part, player);
      const read = MusicXml.read(PartFiles.musicXml(part, player));
      if (!read.ok) throw new Error(`${name}: ${read.problems[0]?.message ?? ''}`);
      const plain = (voice: Voice | undefined) =>
        voice?.notes.map(({ at, length, pitches, fingers, pedal, soft, above }) =>
          JSON.stringify({ at, length, pitches, fingers, pedal, soft, above }),
        );
      for (const voice of written.voices) {
        const again = read.value.voices.find(({ id }) => id === voice.id);
        expect(plain(again), `${name} ${voice.id}`).toEqual(plain(voice));
      }
      // Written-out copies repeat their numbers, which a reader counts on; the introduction stays before bar 1.
      const barsOf = ({ bars }: Score) => ({
        places: bars.map(({ at, length }) => [at, length]),
        before: bars.findIndex(({ number }) => number !== 0),
      });
      expect(barsOf(read.value), name).toEqual(barsOf(written));
      expect(read.value.facts.other, name).toEqual(written.facts.other);
      expect(read.value.facts.credits, name).toEqual(written.facts.credits);
    }
  });

  it('is to Verovio the notes of the part, staff by staff, with every pedal', () => {
    for (const { name, part, player } of made.filter((_, i) => i % 3 === 0)) {
      const score = PartFiles.scoreOf(part, player);
      expect(engraver.loadData(PartFiles.musicXml(part, player)), name).toBeTruthy();
      const mei = engraver.getMEI({});
      const theirs = meiVoices(mei).map(
        (notes) =>
        notes.flatMap(({ at, pitches }) => pitches.map((pitch) => `${at.toFixed(4)} ${String(Pitches.midiOf(pitch))}`)).sort(), // prettier-ignore
      );
      const ours = score.voices.map(
        ({ notes }) =>
        notes.flatMap(({ at, pitches }) => pitches.map((pitch) => `${(at / QUARTER).toFixed(4)} ${String(Pitches.midiOf(pitch))}`)).sort(), // prettier-ignore
      );
      expect(theirs.length, name).toBe(ours.length);
      const onsets = (lines: string[][]) => lines.map((line) => new Set(line));
      ours.forEach((line, i) => {
        const heard = onsets(theirs)[i] ?? new Set();
        expect(
          line.filter((each) => !heard.has(each)),
          `${name}, staff ${String(i)}`,
        ).toEqual([]);
      });
      const drawn = mei.match(/<pedal /g)?.length ?? 0;
      const marks = score.voices.flatMap(({ notes }) => notes.filter(({ pedal }) => pedal));
      const isDown = marks.toSorted((a, b) => a.at - b.at).at(-1)?.pedal;
      expect(drawn, name).toBe(marks.length + (isDown === undefined || isDown === 'up' ? 0 : 1));
    }
  });

  it('has the keyboard as one part of two staves, and says that the bass sounds an octave below', () => {
    const xmlFor = (role: string) => {
      const found = made.find(({ player }) => player.role === role);
      if (!found) throw new Error(role);
      return PartFiles.musicXml(found.part, found.player);
    };
    const keys = xmlFor('keys');
    expect(keys.match(/<score-part /g)).toHaveLength(2);
    expect(keys).toContain('<staves>2</staves>');
    expect(keys).toMatch(/<credit-words[^>]*>keys, .*with pedal, for Ines<\/credit-words>/);
    const bass = xmlFor('bass');
    expect(bass.match(/<score-part /g)).toHaveLength(1);
    expect(bass).toMatch(/<sign>F<\/sign>\s*<line>4<\/line>\s*<clef-octave-change>-1/);
  });
});
