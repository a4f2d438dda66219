import { describe, expect, it } from 'vitest';
import {
  ChordSymbol,
  Parts,
  PartFiles,
  Pitches,
  TEXTURES,
  Time,
  type Density,
  type Ending,
  type Level,
  type Note,
  type Part,
  type Player,
  type RungSteps as Steps,
  type Score,
  type Section,
  type Texture,
} from '#music';
import { hymn } from '#test/support/hymn.ts';
import { faultsOf } from '#test/support/judge-keys.ts';
import { heardTracks } from '#test/support/midi-heard.ts';

/*
 * Endings of a pass, judged without the code that makes them: hands by `judge-keys.ts`, the last chord as midi-file 1.2.4
 * (an independent reader) hears it, the rest by what the definitions say: common practice, the figures are ours.
 */

const FILES = [
  'Amazing_Grace-New_Britain.abc',
  'Be_Thou_My_Vision-Slane.abc',
  'Holy_Holy_Holy-Nicaea.abc',
  'Silent_Night-Stille_Nacht.abc',
  'Now_Thank_We_All_Our_God-Nun_Danket.abc',
] as const;
const ENDINGS = ['quiet', 'broad'] as const;
const STEPS: readonly Steps[] = [
  { right: 1, left: 3, pedal: 0, texture: 1 },
  { right: 2, left: 2, pedal: 1, texture: 6 },
  { right: 3, left: 3, pedal: 0, texture: 6 },
  { right: 4, left: 4, pedal: 1, texture: 6, pulse: true },
];

interface Asked {
  readonly ending: Ending;
  readonly texture: Texture;
  readonly density?: Density;
}

/** Held at first, the last pass in a texture and with an ending of its own. */
function arrangementOf(score: Score, { ending, texture, density = 'bar' }: Asked) {
  const key = score.keys[0]?.key;
  if (!key) throw new Error('a hymn has a key');
  const form = score.form.map((pass, i, all) =>
    i === all.length - 1 ? { ...pass, texture, ending } : pass,
  );
  return { key, tempo: null, density, form } as const;
}

function partOf(score: Score, asked: Asked, player: Partial<Player>, roles = ['keys']): Part {
  const whole: Player = {
    id: 'p',
    name: 'Ines',
    role: 'keys',
    level: 'beginner',
    reach: 12,
    ...player,
  };
  const team = { roles: roles as Player['role'][] };
  const built = Parts.build(score, arrangementOf(score, asked), whole, team);
  if (!built.ok) throw new Error(JSON.stringify(built.problems));
  return built.value;
}

const notesOf = ({ score }: Part, id: string): readonly Note[] =>
  score.voices.find((voice) => voice.id === id)?.notes ?? [];
const within = (notes: readonly Note[], from: number, to: number) =>
  notes.filter(({ at, pitches }) => at >= from && at < to && pitches.length > 0);

/** The section in which the song ends as it is played, as the sheet writes it. */
function lastOf({ score }: Part): Section {
  const id = score.form.at(-1)?.section;
  const section = score.sections.find((each) => each.id === id);
  if (!section) throw new Error('the form ends nowhere');
  return section;
}

/** Where the ending begins and its last chord is struck, read from the signs in the notes. */
function endOf(part: Part, id: string) {
  const { from, to } = lastOf(part);
  const notes = within(notesOf(part, id), from, to);
  const last = notes.findIndex(({ fermata }) => fermata);
  let strike = last;
  while (notes[strike - 1]?.tie) strike -= 1;
  return { notes, last, strike: notes[strike]?.at ?? -1 };
}

/** Where the sheet says that the ending begins. */
function saidFrom(part: Part, ending: Ending): number {
  const section = lastOf(part);
  const words = part.directions.find((each) => each.section === section.id)?.words ?? [];
  const said = words.join('; ').match(new RegExp(`${ending} ending: from bar (\\d+) `, 'u'));
  const bar = part.score.bars.find(
    ({ at, number }) => at >= section.from && at < section.to && number === Number(said?.[1]),
  );
  if (!bar) throw new Error(`no ${ending} ending is said`);
  return bar.at;
}

const cases = FILES.flatMap((file, i) =>
  ENDINGS.flatMap((ending) =>
    STEPS.map((rungs, k) => ({
      file,
      ending,
      rungs,
      texture: TEXTURES[(i + k + 1) % TEXTURES.length] ?? 'held',
    })),
  ),
);

describe.each(cases)('$file, $texture, $ending, at the keys on $rungs', (each) => {
  const { file, rungs } = each;
  const part = partOf(hymn(file), each, { rungs });
  const { to } = lastOf(part);

  it('two hands can play it, and every chord sounds as its symbol says', () => {
    expect(faultsOf(part, { reach: 12, lowest: 'E1', highest: 'A5' })).toEqual([]);
  });

  it.each(['right', 'left'])(
    'the %s hand strikes its last chord once and holds it to the end',
    (id) => {
      const { notes, last } = endOf(part, id);
      expect(last).toBe(notes.length - 1);
      expect((notes[last]?.at ?? 0) + (notes[last]?.length ?? 0)).toBe(to);
      expect(notes.filter(({ fermata }) => fermata)).toHaveLength(1);
      // No more than two bars, as one chord that fades.
      const bars = new Set(
        notes.filter((note) => note.at >= endOf(part, id).strike).map(({ at }) => at),
      );
      expect(bars.size).toBeLessThan(3);
    },
  );

  it(`plays the ${each.ending} ending`, () => {
    const { strike } = endOf(part, 'right');
    const from = saidFrom(part, each.ending);
    const bars = part.score.bars.filter(({ at }) => at >= from && at < to);
    expect(bars.length).toBeGreaterThanOrEqual(2);
    expect(bars.length).toBeLessThanOrEqual(5);
    if (each.ending === 'quiet') {
      const starts = new Set([...bars, ...part.score.chords].map(({ at }) => at));
      for (const id of ['right', 'left'])
        for (const note of within(notesOf(part, id), from, to)) {
          expect(note.soft).toBe(true);
          expect(starts.has(note.at)).toBe(true);
        }
      return;
    }
    // Until the last chord something is struck on every felt beat, where the rung has such a texture and the song a meter.
    if (rungs.texture < 4 || Time.barLength(Time.meterAt(part.score, from)) === null) return;
    const struck = [...notesOf(part, 'right'), ...notesOf(part, 'left')];
    for (const bar of bars) {
      const beat = Time.feltBeat(Time.meterAt(part.score, bar.at));
      for (let at = bar.at; at < Math.min(strike, bar.at + bar.length); at += beat)
        expect(struck.some((note) => note.at === at && note.pitches.length > 0)).toBe(true);
    }
  });

  it('as midi-file hears it, nothing is struck again under the last chord', () => {
    const tracks = heardTracks(PartFiles.midi(part));
    for (const [name, id] of [
      ['Right hand', 'right'],
      ['Left hand', 'left'],
    ] as const) {
      const { strike, notes } = endOf(part, id);
      const heard = tracks.find((track) => track.name === name)?.notes ?? [];
      const last = heard.filter(({ at }) => at >= strike && at < to);
      expect(last.map(({ at }) => at)).toEqual(notes.at(-1)?.pitches.map(() => strike));
      expect(last.map(({ at, length }) => at + length)).toEqual(last.map(() => to));
    }
  });
});

describe.each(FILES)('%s with an ending', (file) => {
  it.each(ENDINGS)(
    '%s: bass and keys have the same chords, and the bass ends on its own note',
    (ending) => {
      const score = hymn(file);
      // With every chord that there is, so that no rung has fuller ones than another.
      const asked = { ending, texture: 'every beat', density: 'beat' } as const;
      const keys = partOf(score, asked, { rungs: { right: 4, left: 4, pedal: 0, texture: 6 } });
      for (const level of ['beginner', 'intermediate', 'advanced'] as const satisfies Level[]) {
        const bass = partOf(score, asked, { role: 'bass', level }, ['keys', 'bass', 'drums']);
        const named = ({ score: { chords } }: Part) =>
          chords.map(({ at, chord }) => `${at} ${chord ? ChordSymbol.write(chord) : ''}`);
        expect(named(bass)).toEqual(named(keys));
        const [{ strike, notes, last }, above] = [endOf(bass, 'bass'), endOf(keys, 'right')];
        expect(strike).toBe(above.strike);
        expect(last).toBe(notes.length - 1);
        const under = (at: number) => bass.score.chords.findLast((each) => each.at <= at)?.chord;
        const from = ending === 'quiet' ? saidFrom(bass, ending) : strike;
        expect(within(notes, from, Infinity).length).toBeGreaterThan(0);
        for (const note of within(notes, from, Infinity)) {
          const chord = under(note.at);
          const root = chord?.bass ?? chord?.root ?? '';
          expect(note.pitches.map((pitch) => Pitches.midiOf(pitch) % 12)).toEqual([
            Pitches.pitchClassOf(root),
          ]);
        }
      }
    },
  );
});

describe('whoever has no notes of their own for it', () => {
  const words = (player: Partial<Player>, ending: Ending) =>
    partOf(
      hymn('Amazing_Grace-New_Britain.abc'),
      { ending, texture: 'held' },
      player,
    ).directions.flatMap((each) => each.words.filter((line) => line.includes('ending')));

  it('holds on, and is told where the others become softer or fuller', () => {
    expect(words({}, 'quiet')).toEqual([
      'verse 7, quiet ending: from bar 13 softer; hold the last chord until all let go',
    ]);
    expect(words({}, 'broad')).toEqual([
      'verse 7, broad ending: from bar 13 the others play full and broaden into the last bar; you hold your last chord with them until all let go',
    ]);
  });

  it('sings, and is told the same', () => {
    expect(words({ role: 'lead voice' }, 'quiet')).toEqual([
      'verse 7, quiet ending: from bar 13 softer; hold the last note until all let go',
    ]);
  });

  it('reads a section that is written otherwise, and is told which pass ends so', () => {
    const [first, ...others] = hymn('Amazing_Grace-New_Britain.abc').form;
    if (!first) throw new Error('the hymn has verses');
    const score = {
      ...hymn('Amazing_Grace-New_Britain.abc'),
      form: [first, ...others.slice(0, 2)],
    };
    const form = score.form.map((pass, i) => ({
      ...pass,
      texture: (['held', 'every beat', 'every beat'] as const)[i] ?? 'held',
      ...(i === 2 ? { ending: 'quiet' as const } : {}),
    }));
    const key = score.keys[0]?.key ?? { tonic: 'G', mode: 'major' };
    const player: Player = {
      id: 'p',
      name: 'Ines',
      role: 'keys',
      level: 'intermediate',
      reach: 12,
    };
    const built = Parts.build(score, { key, tempo: null, density: 'bar', form }, player, {
      roles: ['keys'],
    });
    const said = built.ok ? built.value.directions.at(-1)?.words.slice(-2) : [];
    expect(said).toEqual([
      'verse 3, quiet ending: from bar 13 softly, hold; the last chord once, and hold it',
      'verse 2: on to the end, without the ending',
    ]);
  });
});
