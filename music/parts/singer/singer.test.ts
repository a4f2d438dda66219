import { describe, expect, it } from 'vitest';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { songOf } from '#test/support/small-abc.ts';
import type { Key } from '../../pitch/key.ts';
import { QUARTER, type Score } from '../../score/score.ts';
import { melodyOf } from '../../score/time.ts';
import { table } from '../../voice/fit-table.ts';
import type { Range } from '../../voice/range.ts';
import { headingOf } from '../../sheet/sheet.ts';
import type { Arrangement, Player, Team } from '../arrangement.ts';
import type { Part } from '../part.ts';
import { build } from '../parts.ts';

const ADA: Player = { id: 'ada', name: 'Ada', role: 'lead voice', level: 'beginner', reach: 12 };
const TEAM: Team = { roles: ['keys', 'lead voice'], lead: 'Ada' };
const GRACE = 'Amazing_Grace-New_Britain.abc';
const RANGE: Range = { low: 'A3', high: 'C5' };

const home = (score: Score) => score.keys[0]?.key as Key;
function built(
  score: Score,
  player: Partial<Player> = {},
  more: Partial<Arrangement> = {},
  team = TEAM,
) {
  const arrangement: Arrangement = { key: home(score), tempo: null, density: 'bar', ...more };
  const made = build(score, arrangement, { ...ADA, ...player }, team);
  if (!made.ok) throw new Error(JSON.stringify(made.problems));
  return made;
}
const partOf = (...given: Parameters<typeof built>): Part => built(...given).value;
/** [quarters from the start, word] of each mark. */
const marksOf = (part: Part) =>
  melodyOf(part.score).notes.flatMap(({ at, above }) => (above ? [[at / QUARTER, above]] : []));
/** The tune without what the part sets over it. */
const plainOf = (score: Score) =>
  melodyOf(score).notes.map(({ above: _above, signs, ...note }) => {
    const own = signs?.filter((sign) => sign !== 'breath') ?? [];
    return own.length > 0 ? { ...note, signs: own } : note;
  });

describe('a singer’s part', () => {
  it.each(HYMN_FILES)('is the tune and its words, nothing else: %s', (file) => {
    const score = hymn(file);
    const { score: sung } = partOf(score, { voice: RANGE });
    expect(sung.voices).toHaveLength(1);
    expect(sung.chords).toEqual([]);
    expect(plainOf(sung)).toEqual(melodyOf(score).notes);
    expect(sung.bars).toEqual(score.bars);
  });

  it('calls the notes of its summary as the singer does', () => {
    // B is H in German (LilyPond’s `deutsch`, see test/reference/note-names.test.ts).
    const part = partOf(hymn(GRACE), { voice: { low: 'B3', high: 'B4' }, names: 'german' });
    const english = partOf(hymn(GRACE), { voice: { low: 'B3', high: 'B4' } });
    expect(english.summary).toMatch(/\bB\d/);
    expect(part.summary).toBe(english.summary.replace(/\bB(?=\d)/g, 'H'));
  });

  it('names the passes of a copy by its section, beside a line in unison', () => {
    const song = hymn('Amazing_Grace-New_Britain.abc');
    const form = song.form.slice(0, 3).map((pass, i) => ({
      ...pass,
      texture: (['held', 'held', 'leading'] as const)[i] ?? 'held',
      ...(i === 1 && { unison: true as const }),
    }));
    const team: Team = { roles: ['keys', 'lead voice', 'harmony voice'], lead: 'Ada' };
    const part = partOf(song, { role: 'harmony voice', voice: RANGE }, { form }, team);
    expect(part.score.sections.map(({ name }) => name)).toEqual(['Verses 1 and 3', 'Verse 2']);
    const words = part.directions.flatMap((each) => each.words);
    expect(words).toEqual(expect.arrayContaining(['verse 1: softly', 'verse 3: fuller']));
    expect(words.filter((line) => line.includes('verses 1 and 3'))).toEqual([]);
  });

  it('says to go back where the next thing drawn is in another key and comes later', () => {
    const song = hymn(GRACE);
    const form = song.form.slice(0, 4).map((pass, i) => ({
      ...pass,
      ...(i === 1 && { unison: true as const }),
      ...(i === 3 && { up: 2 }),
    }));
    const team: Team = { roles: ['keys', 'lead voice', 'harmony voice'], lead: 'Ada' };
    const { score, directions } = partOf(
      song,
      { role: 'harmony voice', voice: RANGE },
      { form },
      team,
    );
    expect(score.sections.map(({ name, up }) => [name, up ?? 0])).toEqual([
      ['Verses 1 and 3', 0],
      ['Verse 2', 0],
      ['Verse', 2],
    ]);
    const back = directions.map(({ words }) => words.filter((line) => line.includes('back to')));
    expect(back).toEqual([[], ['at the end back to verses 1 and 3'], []]);
  });

  it('says when to sing and how the first note is found in the chord before it', () => {
    const part = partOf(hymn(GRACE), { voice: RANGE });
    expect(part.countIn).toBe('sing after 1 2, on beat 3 of the introduction’s last bar');
    expect(part.introduction).toMatch(
      /; first note: D4, the fifth of G; the chord before it is G \(G B D\)$/,
    );
    expect(part.order).toBe('introduction once, then verses 1 to 7');
  });

  it.each([
    ['"C"EDCD|"C"C4|]', 'first note: E4, the third of C'],
    ['"C"DDCD|"C"C4|]', 'first note: D4, a step above C, the root of C'],
    ['"C"FDCD|"G7"B,4|]', 'first note: F4, the seventh of G7; the chord before it is G7'],
  ])('%s: %s', (music, words) => {
    expect(partOf(songOf(music)).introduction).toContain(words);
  });

  it('is headed by the voice, without a rung', () => {
    expect(headingOf(partOf(hymn(GRACE)), ADA).rubric).toBe('lead voice, for Ada');
  });
});

describe('what lies high or low for this voice', () => {
  it('stands above the first note of each stretch, and again where it leaves the range', () => {
    const song = songOf('"C"EFGA|BcdE|"C"c4|B,4|"C"A,4|E4|]');
    const part = partOf(song, { voice: { low: 'A3', high: 'C5' } });
    // B4 to D5 without a rest; then C5 for a bar; then B3 is a step above the lowest, A3 is the lowest.
    expect(marksOf(part)).toEqual([
      [4, 'high'],
      [6, 'too high'],
      [8, 'high'],
      [16, 'low'],
    ]);
    expect(part.practice).toEqual([
      'Do not push bar 2, high for three beats, up to D5, a step above C5, the highest that sits easily. Leave such notes out or sing them an octave lower; another key may sit better.',
      'Practise first: bar 3, high for four beats, up to C5, the highest that sits easily. Softly, and stop before it strains.',
    ]);
  });

  it('leaves out what only touches the end of the range, not what touches beyond it', () => {
    const song = songOf('"C"EF c/2B/2A|EF d/2A3/2|"C"E4|]');
    const touched = songOf('"C"EFA c/2A/2|EFA d/2A/2|"C"E4|]');
    expect(marksOf(partOf(song, { voice: RANGE })).map(([, word]) => word)).toEqual([
      'high',
      'too high',
    ]);
    expect(marksOf(partOf(touched, { voice: RANGE })).map(([, word]) => word)).toEqual([
      'too high',
    ]);
  });

  it.each(HYMN_FILES)('is summed up in the words of key fit: %s', (file) => {
    const score = hymn(file);
    const part = partOf(score, { voice: RANGE });
    const singer = { id: 'ada', name: 'Ada', comfortable: RANGE };
    const row = table(score, [singer], { keys: [home(score)] }).rows[0];
    expect(part.summary).toBe(row?.reason);
    const outside = marksOf(part).some(([, word]) => String(word).startsWith('too'));
    expect(outside).toBe((row?.shareOutside ?? 0) > 0);
    expect(part.cautions.some((words) => words.startsWith('This key asks'))).toBe(outside);
  });

  it('is measured an octave lower for a voice that sings there, and the page says so', () => {
    const part = partOf(hymn(GRACE), { voice: { low: 'B2', high: 'E4' } });
    expect(part.directions[0]?.words).toEqual(['you lead', 'sing an octave lower than written']);
    expect(part.introduction).toContain('first note: D3, written D4, the fifth of G');
    expect(part.practice[0] ?? '').not.toContain('D5');
  });

  it('is not marked where no range is known: the page says why and how to mark it', () => {
    const { value, warnings } = built(hymn(GRACE), { voice: null });
    expect(marksOf(value)).toEqual([]);
    expect(warnings.map(({ code }) => code)).toEqual(['no-voice']);
    expect(value.summary).toBe('The tune goes from D4 to D5, half of its time between G4 and B4.');
    expect(value.practice).toEqual([]);
  });
});

describe('who sings', () => {
  it('a harmony voice has the written voice that lies best in it, and is told which', () => {
    const bo = { role: 'harmony voice', name: 'Bo', voice: { low: 'G3', high: 'C5' } } as const;
    const { value, warnings } = built(hymn(GRACE), bo);
    expect(value.role).toBe('harmony voice');
    expect(warnings).toEqual([]);
    expect(value.summary).toMatch(/^This is the written alto: .* it lies best for Bo\. /);
    expect(value.directions[0]?.words[0]).toBe('Ada leads');
  });

  it('a written voice that sounds above a tune sung an octave lower says so', () => {
    const bo = { role: 'harmony voice', name: 'Bo', voice: { low: 'G3', high: 'C5' } } as const;
    const team: Team = { ...TEAM, lead: 'Elias', leadVoice: { low: 'G2', high: 'D4' } };
    expect(built(hymn(GRACE), bo, {}, team).value.summary).toMatch(
      /^This is the written alto: of the written voices it lies best for Bo\. It sounds (mostly )?above the tune as Elias sings it, an octave lower than written\. /,
    );
  });

  it.each([
    [
      'the song has only its tune',
      songOf('CDEF|C4|]'),
      RANGE,
      TEAM,
      'There is no harmony line here, as no chords are written to find one in',
    ],
    [
      'nobody leads',
      hymn(GRACE),
      RANGE,
      { roles: ['keys'] },
      'Nobody leads, so the harmony voices carry the tune',
    ],
    [
      'the voice is not known',
      hymn(GRACE),
      null,
      TEAM,
      'Without a range for Bo none of the written alto, tenor and bass is chosen',
    ],
    [
      'the voice is not known, and nothing is written',
      songOf('"C"CDEF|"C"C4|]'),
      null,
      TEAM,
      'Without a range for Bo no line is made',
    ],
    [
      'what the range leaves would hurt',
      songOf('"C"CDEF|"C"C4|]'),
      { low: 'F#4', high: 'G4' },
      TEAM,
      'No line beside the tune sits in the voice of Bo in this key',
    ],
  ] as const)('a harmony voice has the tune where %s, and is told', (_, song, voice, team, why) => {
    const { value, warnings } = built(song, { role: 'harmony voice', name: 'Bo', voice }, {}, team);
    expect(warnings[0]?.code).toBe('no-harmony-line');
    expect(warnings[0]?.message).toBe(`${why}: this is the tune, for Bo to sing along.`);
    expect(plainOf(value.score)).toEqual(melodyOf(song).notes);
  });

  it('nobody is named where nobody leads', () => {
    const words = partOf(hymn(GRACE), { voice: RANGE }, {}, { roles: [] }).directions[0]?.words;
    expect(words).toEqual([]);
  });

  it('sees who leads which pass where that differs, and that it is one person where it is', () => {
    const score = hymn(GRACE);
    const ledBy = (leads: readonly (string | null)[]) => ({
      form: score.form.map((pass, i) => ({ ...pass, ...(leads[i] ? { lead: leads[i] } : {}) })),
    });
    const words = (leads: readonly (string | null)[], team = TEAM) =>
      partOf(score, { voice: RANGE }, ledBy(leads), team).directions[0]?.words;
    expect(words([null, 'Elias', null, 'Elias'])).toEqual([
      'verses 1, 3, 5, 6 and 7: you lead',
      'verses 2 and 4: Elias leads',
    ]);
    expect(words([null, 'Elias'], { roles: [] })).toEqual(['verse 2: Elias leads']);
    expect(words(score.form.map(() => 'Elias'))).toEqual(['Elias leads']);
    expect(words(['Ada'])).toEqual(['you lead']);
  });

  it('is told how full to sing as the players build', () => {
    const score = hymn(GRACE);
    const form = score.form.map((pass, i) => ({
      ...pass,
      texture: i < 2 ? ('held' as const) : ('every beat' as const),
    }));
    expect(partOf(score, { voice: RANGE }, { form }).directions[0]?.words).toEqual([
      'you lead',
      'verses 1 and 2: softly',
      'verses 3 to 7: full voice',
    ]);
  });

  it('cannot be given notes where the song has words and chords without time', () => {
    const score: Score = { ...hymn(GRACE), untimed: true };
    for (const role of ['keys', 'bass', 'lead voice'] as const) {
      const made = build(
        score,
        { key: home(score), tempo: null, density: 'bar' },
        { ...ADA, role },
        TEAM,
      );
      expect(made.ok ? '' : made.problems[0]?.code).toBe('no-rhythm');
    }
  });
});
