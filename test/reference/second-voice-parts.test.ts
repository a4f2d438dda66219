import { parseMidi } from 'midi-file';
import { Chord } from 'tonal';
import { beforeAll, describe, expect, it } from 'vitest';
import { ChordSymbol, Harmony, PartFiles, Parts, Pitches, QUARTER, Time, type Score } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import type { HeardNote } from '#test/support/midi-heard.ts';
import {
  heard,
  MAN,
  moments,
  noteAt,
  partOf,
  SINGERS,
  stripped,
  WOMAN,
  type Who,
} from '#test/support/second-voices.ts';
import { meiVoices } from '#test/support/mei-voices.ts';
import { schemaErrors } from '#test/support/musicxml-schema.ts';
import { makeEngraver, type Engraver } from '#test/support/verovio.ts';

/*
 * The parts of harmony voices where nothing is written for them, as they are heard and read by others: MIDI by midi-file
 * 1.2.4, MusicXML by the W3C's schema and by Verovio 6.3.0, chords by tonal 6. None shares code with ours. Rules of
 * part-writing: Open Music Theory, "Introduction to species counterpoint"; W. Wieland, "More Voice-Leading Guidelines"
 * (no parallel fifths and octaves, none reached by leaps the same way, no overlaps).
 */

const midi = Pitches.midiOf;

const made = HYMN_FILES.flatMap((file) => {
  const score = stripped(file);
  return (Object.keys(SINGERS) as Who[]).flatMap((who) =>
    ([WOMAN, MAN] as const).map((leadVoice) => {
      const part = partOf(score, SINGERS[who], { team: { leadVoice } });
      return { name: `${file} ${who} beside ${leadVoice === MAN ? 'a man' : 'a woman'}`, who, leadVoice, score, part, heard: heard(part) }; // prettier-ignore
    }),
  );
});

describe('A line that is made, as midi-file hears it', () => {
  it('is there for every hymn, and says what it is', () => {
    expect(made).toHaveLength(HYMN_FILES.length * 8);
    for (const { name, part, heard: sounds } of made) {
      expect(part.line, name).toMatch(/^made (under|over) the tune$/);
      expect(part.summary, name).toMatch(/^A second voice for Joel, made from the tune and its chords, (under|over) the tune/); // prettier-ignore
      expect(sounds.line.length, name).toBeGreaterThan(10);
    }
  });

  it('lies inside the comfortable range, all of it', () => {
    for (const {
      name,
      who,
      heard: { line },
    } of made)
      // prettier-ignore
      for (const note of line) {
        expect(note.midi, name).toBeGreaterThanOrEqual(midi(SINGERS[who].low));
        expect(note.midi, name).toBeLessThanOrEqual(midi(SINGERS[who].high));
      }
  });

  it('does not cross the tune as it sounds, or says where', () => {
    let crossings = 0;
    for (const { name, part, heard: sounds } of made) {
      const over = part.line === 'made over the tune';
      const crossed = moments(sounds).filter(({ own, tune }) => (over ? own < tune : own > tune));
      if (crossed.length > 0) expect(part.summary, name).toContain('on the other side of the tune');
      else expect(part.summary, name).not.toContain('on the other side of the tune');
      crossings += crossed.length;
    }
    const all = made.reduce((sum, each) => sum + moments(each.heard).length, 0);
    process.stdout.write(`crossings, each said: ${crossings} of ${all} moments\n`);
    expect(crossings).toBeLessThan(all / 200);
  });

  it('hears the tune where the lead sings it: beside a man an octave lower, so that a third is a sixth', () => {
    let lower = 0;
    for (const {
      leadVoice,
      score,
      heard: { tune },
    } of made) {
      // prettier-ignore
      const written = Time.soundingNotes(Time.melodyOf(score)).map(({ pitch }) => midi(pitch));
      const by = (tune[0]?.midi ?? NaN) - (written[0] ?? NaN);
      // As the lead's own sheet says.
      const key = Time.keyAt(score, 0).key;
      const ada = { id: 'a', name: 'Ada', role: 'lead voice', level: 'beginner', reach: 12, voice: leadVoice } as const; // prettier-ignore
      const led = Parts.build(score, { key, tempo: null, density: 'bar' }, ada, { roles: [] });
      const words = led.ok ? (led.value.directions[0]?.words ?? []) : [];
      expect(by).toBe(words.includes('sing an octave lower than written') ? -12 : 0);
      if (leadVoice === MAN && by === -12) lower += 1;
    }
    expect(lower).toBeGreaterThan(HYMN_FILES.length * 3);
    // A woman who sings a third under the written tune sounds a sixth over the man who leads it.
    const score = stripped('Amazing_Grace-New_Britain.abc');
    const beside = heard(partOf(score, SINGERS.alto, { team: { leadVoice: MAN } }));
    expect(moments(beside).every(({ own, tune }) => own >= tune)).toBe(true);
    expect(moments(beside).filter(({ own, tune }) => [8, 9].includes(own - tune)).length).toBeGreaterThan(10); // prettier-ignore
  });
});

interface Figures {
  pairs: number;
  sweet: number;
  steps: number;
  thirds: number;
  leaps: number;
  wide: number;
  parallels: number;
  moves: number;
  strong: number;
  inChord: number;
}
const NONE: Figures = { pairs: 0, sweet: 0, steps: 0, thirds: 0, leaps: 0, wide: 0, parallels: 0, moves: 0, strong: 0, inChord: 0 }; // prettier-ignore

/** The notes of a chord as tonal spells them, by the symbol; null: it does not know it. */
function tonesByTonal(symbol: string): ReadonlySet<number> | null {
  const [, root = '', kind = ''] = /^([A-G][#b]?)(|m|7|m7|maj7|dim)(?:\/.*)?$/.exec(symbol) ?? [];
  const { notes } = Chord.get(root + kind);
  return notes.length > 0 ? new Set(notes.map(Pitches.pitchClassOf)) : null;
}

/** Counts by the textbook, with nothing of how lines are found. */
function count(
  into: Figures,
  score: Score,
  line: readonly HeardNote[],
  tune: readonly HeardNote[],
): void {
  // prettier-ignore
  line.forEach((note, i) => {
    const other = noteAt(tune, note.at);
    if (!other) return;
    const apart = Math.abs(note.midi - other.midi);
    into.pairs += note.length;
    if ([3, 4, 8, 9].includes(apart % 12)) into.sweet += note.length;
    const bar = Time.barAt(score, note.at);
    const beat = Time.feltBeat(Time.meterAt(score, note.at));
    const chord = score.chords.findLast((each) => each.at <= note.at)?.chord;
    const tones = chord ? tonesByTonal(ChordSymbol.write(chord)) : null;
    if (tones && (note.at - bar.at) % beat === 0) {
      into.strong += 1;
      if (tones.has(note.midi % 12)) into.inChord += 1;
    }
    const before = line[i - 1];
    const otherBefore = before && noteAt(tune, before.at);
    if (!before || !otherBefore || before.at + before.length !== note.at) return;
    const size = Math.abs(note.midi - before.midi);
    into.moves += 1;
    if (size === 1 || size === 2) into.steps += 1;
    else if (size === 3 || size === 4) into.thirds += 1;
    else if (size > 7) into.wide += 1;
    else if (size > 4) into.leaps += 1;
    const same = Math.sign(note.midi - before.midi) === Math.sign(other.midi - otherBefore.midi);
    const was = Math.abs(before.midi - otherBefore.midi) % 12;
    // Two who sing the tune together, note for note, are no two voices.
    const together = apart === 0 && before.midi === otherBefore.midi;
    if (size > 0 && same && !together && apart % 12 === was && (was === 0 || was === 7))
      into.parallels += 1;
  });
}

const percent = (part: number, all: number) => `${Math.round((100 * part) / Math.max(1, all))} %`;
const say = (name: string, f: Figures) =>
  process.stdout.write(
    `${name}: thirds and sixths ${percent(f.sweet, f.pairs)} of the time; moves: steps ${percent(f.steps, f.moves)}, thirds ${percent(f.thirds, f.moves)}, fourths and fifths ${percent(f.leaps, f.moves)}, wider ${f.wide}; parallel fifths and octaves ${f.parallels} in ${f.moves}; chord notes on felt beats ${percent(f.inChord, f.strong)} of ${f.strong}\n`,
  );

describe('Made lines beside the altos that are written', () => {
  it('keep to the rules: no parallels for altos, chord notes on beats, few leaps (figures, not tuned to)', () => {
    const written = { ...NONE };
    for (const file of HYMN_FILES) {
      const score = { ...hymn(file), chords: stripped(file).chords };
      const melody = Time.melodyOf(score);
      const alto = score.voices.find(({ id, group }) => id !== melody.id && group === melody.group);
      const top = (notes: typeof melody) => ({ ...notes, notes: notes.notes.map((note) => ({ ...note, pitches: note.pitches.slice(-1) })) }); // prettier-ignore
      const soundsOf = (voice: typeof melody): HeardNote[] =>
        Time.soundingNotes(top(voice)).map((note) => ({ ...note, midi: midi(note.pitch) }));
      if (alto) count(written, score, soundsOf(alto), soundsOf(melody));
    }
    say('written altos', written);
    for (const who of Object.keys(SINGERS) as Who[]) {
      const ours = { ...NONE };
      for (const each of made)
        if (each.who === who && each.leadVoice === WOMAN)
          count(ours, each.score, each.heard.line, each.heard.tune);
      say(`made for the ${who}`, ours);
      expect(ours.strong).toBeGreaterThan(500);
      expect(ours.inChord / ours.strong).toBeGreaterThan(0.95);
      expect((ours.steps + ours.thirds) / ours.moves).toBeGreaterThan(0.5);
      expect(ours.wide).toBe(0);
      expect(ours.parallels).toBe(0);
    }
    expect(written.moves).toBeGreaterThan(800);
  });
});

describe('MusicXML of a made line', () => {
  let toolkit: Engraver;
  beforeAll(async () => {
    toolkit = await makeEngraver();
  }, 60_000);

  it('is valid, for every hymn and singer', async () => {
    const files = Object.fromEntries(
      made
        .filter(({ leadVoice }) => leadVoice === WOMAN)
        .map(({ part }, i) => [`${String(i)}.xml`, PartFiles.musicXml(part, { name: 'Joel' })]),
    );
    expect(await schemaErrors(files)).toEqual([]);
  }, 120_000);

  it('has one staff, no more than three ledger lines, and the words of the tune', () => {
    // Bottom and top line of each clef, counted in letters from C0.
    const staves = { treble: [30, 38], 'treble-8': [23, 31], bass: [18, 26], 'bass-8': [11, 19] };
    const clefs = new Map<string, number>();
    for (const { name, who, score, part } of made) {
      const xml = PartFiles.musicXml(part, { name: 'Joel' });
      expect(xml.match(/<score-part /g), name).toHaveLength(1);
      const voice = Time.melodyOf(part.score);
      const [bottom = 0, top = 0] = staves[voice.clef];
      clefs.set(`${who} ${voice.clef}`, (clefs.get(`${who} ${voice.clef}`) ?? 0) + 1);
      for (const pitch of voice.notes.flatMap(({ pitches }) => pitches)) {
        const { step } = Pitches.requirePitch(pitch);
        expect(Math.floor(Math.max(bottom - step, step - top, 0) / 2), name).toBeLessThanOrEqual(3);
      }
      const words = (notes: typeof voice.notes) =>
        notes.map(({ syllables }) => syllables?.map((each) => each?.text ?? '').join('|') ?? '');
      expect(words(voice.notes), name).toEqual(words(Time.melodyOf(score).notes));
    }
    process.stdout.write(`clefs: ${[...clefs].map(([clef, files]) => `${clef} ${files}`).join(', ')}\n`); // prettier-ignore
    expect(clefs.get('alto treble')).toBe(HYMN_FILES.length * 2);
    expect(clefs.get('child treble')).toBe(HYMN_FILES.length * 2);
    expect(clefs.get('tenor treble')).toBeUndefined();
  });

  it('sounds in Verovio what midi-file hears of ours, in every clef', () => {
    const seen = new Set<string>();
    for (const { name, part, heard: sounds } of made) {
      const { clef } = Time.melodyOf(part.score);
      const key = `${clef} ${name.slice(0, 8)}`;
      if (seen.has(key) || seen.size > 30) continue;
      seen.add(key);
      toolkit.loadData(PartFiles.musicXml(part, { name: 'Joel' }));
      const [voice = []] = meiVoices(toolkit.getMEI({}));
      const theirs = voice.map(({ at: start, pitches }) => `${Math.round(start * QUARTER)} ${midi(pitches[0] ?? '')}`); // prettier-ignore
      const ours = sounds.line.map((note) => `${note.at} ${note.midi}`);
      expect(ours.every((each) => theirs.includes(each)), name).toBe(true); // prettier-ignore
      const { tracks } = parseMidi(Buffer.from(toolkit.renderToMIDI(), 'base64'));
      const played = tracks.flatMap((track) =>
        track.flatMap((event) =>
          event.type === 'noteOn' && event.velocity > 0 ? [event.noteNumber] : [],
        ),
      );
      expect([...new Set(played)].sort(), name).toEqual([...new Set(sounds.line.map((note) => note.midi))].sort()); // prettier-ignore
    }
    expect([...new Set([...seen].map((key) => key.split(' ')[0]))].sort()).toEqual(['bass', 'treble', 'treble-8']); // prettier-ignore
  });
});

describe('Held notes', () => {
  it('are tied where the tune moves within a syllable and the line does not, so that no slur lies over one pitch', () => {
    for (const { name, part } of made) {
      const { notes } = Time.melodyOf(part.score);
      notes.forEach((note, i) => {
        const next = notes[i + 1];
        const isSung = next?.syllables?.some((each) => each !== null) ?? true;
        if (!next || isSung || note.pitches.length === 0 || next.pitches.length === 0) return;
        if (note.pitches[0] === next.pitches[0])
          expect(note.tie, `${name} at ${note.at}`).toBe(true);
      });
    }
  });
});

describe('Harmony.line', () => {
  it('says why there is none: no tune, no chords', () => {
    const score = stripped('Amazing_Grace-New_Britain.abc');
    const singer = { id: 'a', name: 'Ines', comfortable: SINGERS.alto };
    const codeOf = (each: Score) => {
      const found = Harmony.line(each, singer);
      return found.ok ? null : found.problems[0]?.code;
    };
    expect(codeOf(score)).toBeNull();
    expect(codeOf({ ...score, chords: [] })).toBe('no-chords');
    const silent = score.voices.map((voice) => ({ ...voice, notes: voice.notes.map((note) => ({ ...note, pitches: [] })) })); // prettier-ignore
    expect(codeOf({ ...score, voices: silent })).toBe('no-tune');
  });
});
