import { describe, expect, it } from 'vitest';
import { Midi, QUARTER, Time, type Result, type Score } from '#music';
import { played, smf, text, type Timed } from '#test/support/midi-file-writer.ts';

const BEAT = 480;
const meter = (at: number, numerator: number, denominator: number): Timed =>
  ({ at, type: 'timeSignature', numerator, denominator, metronome: 24, thirtyseconds: 8 }) as Timed;
const key = (at: number, sharps: number, scale: 0 | 1 = 0): Timed =>
  ({ at, type: 'keySignature', key: sharps, scale }) as Timed;

function score(bytes: Uint8Array, options = {}): Score {
  const read = Midi.read(bytes, options);
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}

const codes = (read: Result<Score>): string[] =>
  (read.ok ? read.warnings : read.problems).map(({ code }) => code);

/** `C4 0 1`: pitch, onset and length in quarters. */
function heard(of: Score, id = of.melody): string[] {
  const voice = of.voices.find((each) => each.id === id);
  if (!voice) throw new Error(`no voice ${id}`);
  return Time.soundingNotes(voice).map(
    ({ pitch, at, length }) => `${pitch} ${String(at / QUARTER)} ${String(length / QUARTER)}`,
  );
}

const scale = (channel: number, from: number, length = BEAT): Timed[] =>
  [0, 2, 4, 5, 7, 5, 4, 0].flatMap((step, i) => played(channel, i * BEAT, length, from + step));

describe('A MIDI file becomes a song', () => {
  it('with its notes on their beats, its title and its key', () => {
    const file = smf([[text(0, 'trackName', 'A Tune'), key(0, 1)], scale(0, 67)]);
    const read = score(file);
    expect(read.facts.title).toBe('A Tune');
    expect(read.keys[0]?.signature).toBe(1);
    expect(heard(read).slice(0, 3)).toEqual(['G4 0 1', 'A4 1 1', 'B4 2 1']);
    expect(read.bars.map(({ number, length }) => [number, length / QUARTER])).toEqual([
      [1, 4],
      [2, 4],
    ]);
  });

  it('of format 0, whose channels are its parts', () => {
    const read = score(smf([[...scale(0, 72), ...scale(1, 48)]], 0));
    expect(read.voices.map(({ name }) => name)).toEqual([
      'Track 1, channel 1',
      'Track 1, channel 2',
    ]);
    expect(heard(read, 'T2')[0]).toBe('C3 0 1');
  });

  it('inside a RIFF wrapper, whatever stands before the data', () => {
    const bare = smf([scale(0, 60)]);
    const size = (n: number): number[] => [n & 255, (n >> 8) & 255, (n >> 16) & 255, 0];
    const ascii = (word: string): number[] => [...word].map((letter) => letter.charCodeAt(0));
    const info = [...ascii('INFO'), 1, 0, 0, 0, 7, 0];
    const data = [...ascii('data'), ...size(bare.length), ...bare];
    const body = [...ascii('RMID'), ...info, ...data];
    const wrapped = Uint8Array.from([...ascii('RIFF'), ...size(body.length), ...body]);
    expect(score(wrapped)).toEqual(score(bare));
  });

  it('with the words of its lyric events: a space ends a word (RP-017)', () => {
    const words = ['A', 'maz', 'ing ', 'grace! '].map((each, i) => text(i * BEAT, 'lyrics', each));
    const read = score(smf([[...scale(0, 60), ...words]]));
    const sung = read.voices[0]?.notes.flatMap(({ syllables }) => syllables ?? []);
    expect(sung).toEqual([
      { text: 'A', hyphen: true },
      { text: 'maz', hyphen: true },
      { text: 'ing' },
      { text: 'grace!' },
    ]);
    expect(read.verses).toHaveLength(1);
  });

  it('with words that are hyphenated and have no spaces, and in a track of their own', () => {
    const words = ['A-', 'maz-', 'ing', 'grace!'].map((each, i) => text(i * BEAT, 'lyrics', each));
    const read = score(smf([words, scale(0, 60)]));
    const sung = read.voices[0]?.notes.flatMap(({ syllables }) => syllables ?? []);
    expect(sung?.map((each) => each?.text + (each?.hyphen ? '-' : ''))).toEqual([
      'A-',
      'maz-',
      'ing',
      'grace!',
    ]);
  });

  it('with sections where markers name them', () => {
    const marks = [text(0, 'marker', 'Verse'), text(4 * BEAT, 'marker', 'Refrain')];
    const read = score(smf([marks, scale(0, 60)]));
    expect(read.sections.map(({ kind, from }) => [kind, from / QUARTER])).toEqual([
      ['verse', 0],
      ['refrain', 4],
    ]);
  });

  it('with a pickup, where the first meter lasts one short bar', () => {
    const file = smf([[meter(0, 1, 4), meter(BEAT, 4, 4)], scale(0, 60).slice(0, 10)]);
    const read = score(file);
    expect(read.bars.map(({ number, length }) => [number, length / QUARTER])).toEqual([
      [0, 1],
      [1, 4],
    ]);
    expect(read.meters).toEqual([{ at: 0, meter: { beats: 4, unit: 4 } }]);
  });

  it('without the count on the drums before it, whose last bar the pickup makes up', () => {
    const clicks = Array.from({ length: 7 }, (_, i) => played(9, i * BEAT, 60, 37)).flat();
    const late = scale(0, 60).map((event) => ({ ...event, at: event.at + 7 * BEAT }));
    const read = Midi.read(smf([clicks, late]));
    expect(codes(read)).toEqual(
      expect.arrayContaining(['info-drums', 'info-count-in', 'guess-pickup']),
    );
    const bars = read.ok ? read.value.bars : [];
    expect(bars.map(({ number, length }) => [number, length / QUARTER])).toEqual([
      [0, 1],
      [1, 4],
      [2, 3],
    ]);
    expect(read.ok && heard(read.value)[0]).toBe('C4 0 1');
  });

  it('with triplets as such, tied where a bar line or their end cuts a note', () => {
    const third = BEAT / 3;
    const notes = [0, 1, 2].flatMap((i) => played(0, i * third, third, 60 + i));
    const file = smf([
      [...notes, ...played(0, BEAT, 4 * BEAT, 65), ...played(0, 5 * BEAT, 3 * BEAT, 60)],
    ]);
    const [voice] = score(file).voices;
    expect(voice?.notes.slice(0, 3).map(({ tuplet }) => tuplet)).toEqual([
      { actual: 3, normal: 2 },
      { actual: 3, normal: 2 },
      { actual: 3, normal: 2 },
    ]);
    expect(voice?.notes[3]).toMatchObject({ length: 3 * QUARTER, tie: true });
  });

  it('played by hand: put on the grid, and it is said how far', () => {
    const late = [7, -5, 11, 3, -9, 6, -4, 8];
    const hand = scale(0, 60, 400).map((event, i) => ({ ...event, at: Math.max(0, event.at + (late[i >> 1] ?? 0)) })); // prettier-ignore
    const read = Midi.read(smf([hand]));
    expect(codes(read)).toContain('guess-rhythm');
    expect(read.ok && heard(read.value).slice(0, 4)).toEqual([
      'C4 0 1',
      'D4 1 1',
      'E4 2 1',
      'F4 3 1',
    ]);
  });

  it('that a program plays a little short, at full length', () => {
    expect(heard(score(smf([scale(0, 60, 456)])))[0]).toBe('C4 0 1');
  });

  it('held over into the next note: the note ends where that begins', () => {
    const read = Midi.read(smf([scale(0, 60, 500)]));
    expect(codes(read)).not.toContain('guess-rhythm');
    expect(read.ok && heard(read.value)[0]).toBe('C4 0 1');
  });

  it('of two voices on one track, upper and lower, where a note is repeated under a held one', () => {
    const upper = [...played(0, 0, BEAT, 67), ...played(0, BEAT, BEAT, 67)];
    const file = smf([[...upper, ...played(0, 0, 2 * BEAT, 64)]]);
    const read = score(file);
    expect(read.voices.map(({ id }) => heard(read, id))).toEqual([
      ['G4 0 1', 'G4 1 1'],
      ['E4 0 2'],
    ]);
  });
});

describe('What MIDI does not say is concluded, and said to be', () => {
  it('the key, where none or only C major is named, with what else it may be', () => {
    const read = Midi.read(smf([[key(0, 0)], scale(0, 62 + 5)]));
    expect(codes(read)).toContain('guess-key');
    if (!read.ok) throw new Error('not read');
    const [found] = read.value.keys;
    expect(found?.sure).toBe(false);
    expect(found?.others.length).toBeGreaterThan(0);
    expect(found?.reason).toContain('Krumhansl and Kessler 1982');
  });

  it('a major key that the end of the music speaks against is doubted', () => {
    const minor = [69, 71, 72, 74, 76, 74, 68, 69].flatMap((pitch, i) =>
      played(0, i * BEAT, BEAT, pitch),
    );
    const [found] = score(smf([[key(0, 0), key(0, 1)], minor])).keys;
    expect(found?.sure).toBe(false);
    expect(found?.others.length).toBe(1);
  });

  it('the tune: the words, then the name, then one note at a time, then the height', () => {
    const named = (name: string, notes: Timed[]): Timed[] => [text(0, 'trackName', name), ...notes];
    const chordal = [...scale(0, 72), ...scale(0, 76)];
    const of = (...tracks: Timed[][]): string => score(smf(tracks)).melody;
    expect(of(named('Flute', scale(1, 72)), named('Melody', scale(0, 60)))).toBe('T2');
    expect(of(named('A', chordal), named('B', scale(1, 60)))).toBe('T2');
    expect(of(named('A', scale(0, 48)), named('B', scale(1, 60)))).toBe('T2');
    expect(
      of(named('Melody', scale(0, 60)), [...named('B', scale(1, 48)), text(0, 'lyrics', 'la ')]),
    ).toBe('T2');
    expect(of(named('Alto', scale(0, 72)), named('One', scale(1, 60)))).toBe('T2');
  });

  it('unless a person chooses it from the list', () => {
    const file = smf([
      [...scale(0, 72), text(0, 'trackName', 'High')],
      [...scale(1, 48), ...scale(1, 52)],
    ]);
    expect(Midi.tracks(file)).toEqual([
      { index: 0, name: 'High', notes: 8, chords: false },
      { index: 1, name: 'Track 2', notes: 16, chords: true },
    ]);
    expect(score(file, { melody: 1 }).melody).toBe('T2');
    expect(codes(Midi.read(file, { melody: 1 }))).not.toContain('guess-melody');
    expect(codes(Midi.read(file, { melody: 7 }))).toEqual(['no-such-part']);
  });
});

describe('The choice of the tune is told', () => {
  it.each([
    // Its own name says it: that it is not another's need not be said.
    ['Soprano', 'Bass', 72, 48, 'its name says so.'],
    ['Flute', 'Bass', 72, 48, 'its name is not that of a lower voice or of a player.'],
    ['High', 'Low', 72, 48, 'it lies highest.'],
  ])('%s before %s', (one, other, high, low, why) => {
    const file = smf([
      [...scale(0, high), text(0, 'trackName', one)],
      [...scale(1, low), text(0, 'trackName', other)],
    ]);
    const read = Midi.read(file);
    const said = read.ok && read.warnings.find(({ code }) => code === 'guess-melody');
    expect(said && said.message).toBe(
      `“${one}” is taken for the tune: ${why} The next is “${other}”.`,
    );
  });
});

describe('Damage is told', () => {
  const bytesOf = (...body: number[]): Uint8Array =>
    Uint8Array.from([
      ...[0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 1, 0, 1, 1, 0xe0],
      ...[0x4d, 0x54, 0x72, 0x6b, 0, 0, 0, body.length],
      ...body,
    ]);

  it('a note that never ends ends with its track; running status and a stroke of no strength are understood', () => {
    // Beat 0: C4 on; beat 1: (running) C4 with velocity 0, E4 on; then the end of the track after a beat.
    const file = bytesOf(0, 0x90, 60, 64, 0x83, 0x60, 60, 0, 0, 64, 64, 0x83, 0x60, 0xff, 0x2f, 0);
    const read = Midi.read(file);
    expect(read.ok && heard(read.value)).toEqual(['C4 0 1', 'E4 1 1']);
    expect(codes(read)).toContain('note-without-end');
  });

  it('a track that is cut off gives what it has', () => {
    const whole = smf([scale(0, 60)]);
    const read = Midi.read(whole.subarray(0, whole.length - 20));
    expect(codes(read)).toEqual(expect.arrayContaining(['track-cut-off']));
    expect(read.ok && heard(read.value).length).toBeGreaterThan(4);
  });

  it('an event that no standard knows ends the reading of its track', () => {
    const read = Midi.read(bytesOf(0, 0x90, 60, 64, 0x60, 0x80, 60, 0, 0, 0xf4, 1, 2, 3));
    expect(codes(read)).toContain('track-garbled');
  });

  it.each<[string, (bytes: Uint8Array) => void, string]>([
    ['a letter of its head is wrong', (bytes) => (bytes[0] = 0), 'no-midi'],
    ['it counts film time', (bytes) => (bytes[12] = 0xe7), 'midi-film-time'],
    ['it has no ticks to the beat', (bytes) => bytes.fill(0, 12, 14), 'midi-head'],
    ['it is of format 2', (bytes) => (bytes[9] = 2), 'midi-format'],
  ])('a file is refused where %s', (_, damage, code) => {
    const bytes = smf([scale(0, 60)]);
    damage(bytes);
    expect(codes(Midi.read(bytes))).toEqual([code]);
    expect(Midi.tracks(bytes)).toEqual([]);
  });

  it('a file of drums alone has no song', () => {
    expect(codes(Midi.read(smf([played(9, 0, 100, 38)])))).toContain('no-notes');
    expect(codes(Midi.read(smf([[]])))).toContain('no-notes');
  });

  it('a note a day later makes no day of bars', () => {
    const far = smf([[...played(0, 0, 480, 60), ...played(0, 200_000_000, 480, 60)]]);
    expect(codes(Midi.read(far))).toEqual(['too-many-bars']);
  });
});
