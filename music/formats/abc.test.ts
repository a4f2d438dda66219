import { describe, expect, it } from 'vitest';
import { Abc, QUARTER, Time, type Problem, type Score } from '#music';
import { hymn } from '#test/support/hymn.ts';

function read(body: string, head = 'M:4/4\nL:1/4'): { score: Score; warnings: readonly Problem[] } {
  const result = Abc.read(`X:1\nT:Piece\n${head}\n${body}\n`);
  const score = result.ok ? result.value[0] : undefined;
  if (!result.ok || !score) throw new Error(JSON.stringify(result));
  return { score, warnings: result.warnings.filter(({ code }) => !/^(info|guess)-/.test(code)) };
}

function refusal(body: string, head = 'M:4/4\nL:1/4'): readonly Problem[] {
  const result = Abc.read(`X:1\nT:Piece\n${head}\n${body}\n`);
  if (result.ok) throw new Error('it was read');
  return result.problems;
}

const codes = (warnings: readonly Problem[]): string[] => warnings.map(({ code }) => code);
const bars = (score: Score): unknown =>
  score.bars.map(({ number, length, line }) => [number, length / QUARTER, line]);

describe('Bars', () => {
  it('a pickup is bar 0, and the last bar makes up for it', () => {
    const { score, warnings } = read('K:G\nD | G2 B2 | D3 |]');
    expect(bars(score)).toEqual([
      [0, 1, 'single'],
      [1, 4, 'single'],
      [2, 3, 'final'],
    ]);
    expect(warnings).toEqual([]);
  });

  it('a bar that a line break cuts in two is one bar', () => {
    const { score } = read('K:G\nD | G3\nD | B3 |]');
    expect(bars(score)).toEqual([
      [0, 1, 'single'],
      [1, 4, 'single'],
      [2, 3, 'final'],
    ]);
  });

  it('a bar that a double line cuts in two is counted through', () => {
    const { score, warnings } = read('K:G\nG4 | A2 B || c | d4 |]');
    expect(bars(score)).toEqual([
      [1, 4, 'single'],
      [2, 3, 'double'],
      [2, 1, 'single'],
      [3, 4, 'final'],
    ]);
    expect(warnings).toEqual([]);
    expect(Time.placeOf(score, 7 * QUARTER)).toEqual({ bar: 2, beat: 4 });
  });

  it('a short and a long bar are told with their line and what is in them', () => {
    const { warnings } = read('K:G\nG4 | A2 B |\nc4 | d5 | d4 |]');
    expect(warnings).toEqual([
      { code: 'bar-too-short', message: 'Bar 2 has 3 beats where the meter has 4 beats.', line: 6 },
      { code: 'bar-too-long', message: 'Bar 4 has 5 beats where the meter has 4 beats.', line: 7 },
    ]);
  });

  it('voices that disagree are refused, and every bar is named', () => {
    const problems = refusal(
      'K:C\nV:a\nC4 | D4 | E4 |]\nV:b\nC3 | D4 | E2 |]\nV:c\nC4 | D4 | E4 |]',
    );
    expect(problems).toEqual([
      {
        code: 'voices-disagree',
        message: 'Bar 1 of voice b has 3 beats, in voice a it has 4 beats.',
        line: 9,
      },
      {
        code: 'voices-disagree',
        message: 'Bar 3 of voice b has 2 beats, in voice a it has 4 beats.',
        line: 9,
      },
    ]);
  });

  it('a bar line that one voice lacks is taken from the others', () => {
    const { score, warnings } = read('K:C\nV:a\nC4 | D4 |]\nV:b\nC4 D4 |]\nV:c\nC4 | D4 |]');
    expect(score.bars.length).toBe(2);
    expect(codes(warnings)).toEqual(['bar-line-missing']);
    expect(warnings[0]?.line).toBe(9);
  });

  it('repeats, endings and lines of every kind', () => {
    const { score } = read('K:C\n|: C4 .| D4 |1 E4 :|2 F4 || G4 [|] A4 |]');
    expect(
      score.bars.map((bar) => [bar.line, bar.repeatStart, bar.repeatEnd, bar.endings.join()]),
    ).toEqual([
      ['dashed', true, false, ''],
      ['single', false, false, ''],
      ['final', false, true, '1'],
      ['double', false, false, '2'],
      ['none', false, false, ''],
      ['final', false, false, ''],
    ]);
  });

  it('without a meter the printed lines are the bars', () => {
    const { score, warnings } = read('K:C\nC2 D | E F G A B | c |]', 'M:none\nL:1/4');
    expect(bars(score)).toEqual([
      [1, 3, 'single'],
      [2, 5, 'single'],
      [3, 1, 'final'],
    ]);
    expect(codes(warnings)).toEqual([]);
  });
});

describe('Words', () => {
  const words = (line: string): unknown => {
    const { score } = read(`K:C\nC D E F | G4 |]\nw:${line}`);
    return score.voices[0]?.notes.map((note) => note.syllables?.[0] ?? null);
  };

  it.each([
    ['a- maz-ing grace', ['a-', 'maz-', 'ing', 'grace', null]],
    ['A- * men _ so', ['A-', null, 'men', null, 'so']],
    ['time__ and', ['time', null, null, 'and', null]],
    ['of~the day | now', ['of the', 'day', null, null, 'now']],
    ['well\\-known it', ['well-known', 'it', null, null, null]],
    ['caf\\u00e9 na\\"ive &amp;', ['café', 'naïve', '&', null, null]],
  ])('%s', (line, expected) => {
    const plain = (each: unknown): unknown => {
      const syllable = each as { text: string; hyphen?: true } | null;
      return syllable && syllable.text + (syllable.hyphen ? '-' : '');
    };
    expect((words(line) as unknown[]).map(plain)).toEqual(expected);
  });

  it('several lines under one line of music are verses; + goes on with one', () => {
    const { score } = read('K:C\nC D E F |]\nw:1.~one two\n+:three four\nw:2.~five six');
    expect(score.verses).toEqual([
      { number: 1, label: '1.' },
      { number: 2, label: '2.' },
    ]);
    expect(score.voices[0]?.notes.map((note) => note.syllables?.[0]?.text)).toEqual([
      'one',
      'two',
      'three',
      'four',
    ]);
  });

  it('words without a note are told and kept with the facts', () => {
    const { score, warnings } = read('K:C\nC4 |]\nw:one two three');
    expect(score.facts.other).toEqual([['words without notes', 'two three']]);
    expect(warnings).toMatchObject([{ code: 'words-without-notes', line: 7 }]);
  });

  it('verses below the music are grouped by their numbers: New Britain has seven', () => {
    const { verses } = hymn('Amazing_Grace-New_Britain.abc');
    expect(verses.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7]);
    expect(verses[5]).toEqual({
      number: 6,
      label: '6.',
      lines: [
        'The earth shall soon dissolve like snow,',
        'The sun forbear to shine;',
        'But God, Who called me here below,',
        'Shall be forever mine.',
      ],
    });
  });

  it('verses in a block of text are verses too: Llanfair has ten', () => {
    const { verses } = hymn('Christ_The_Lord_Is_Risen_Today-Llanfair.abc');
    expect(verses.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    expect(verses[9]?.lines?.[0]).toBe('Jesus Christ is risen today, Alleluia!');
  });
});

describe('Sections', () => {
  it('words that stand once for all verses, to the end, are the refrain: Veni Emmanuel', () => {
    const score = hymn('O_Come_O_Come_Emmanuel-Veni_Emmanuel.abc');
    const [verse, refrain] = score.sections;
    expect(score.sections.map(({ name }) => name)).toEqual(['Verse', 'Refrain']);
    expect(verse?.to).toBe(refrain?.from);
    expect(Time.placeOf(score, refrain?.from ?? 0)).toEqual({ bar: 12, beat: 4 });
    expect(score.form.slice(0, 4)).toEqual([
      { section: 'verse', verse: 1 },
      { section: 'refrain', verse: null },
      { section: 'verse', verse: 2 },
      { section: 'refrain', verse: null },
    ]);
  });

  it('in Blessed Assurance it begins with “This is my story”', () => {
    const score = hymn('Blessed_Assurance-Blessed_Assurance-Assurance.abc');
    const from = score.sections[1]?.from;
    const notes = Time.melodyOf(score).notes.filter((note) => note.at >= (from ?? 0));
    expect(notes.slice(0, 5).map((note) => note.syllables?.[0]?.text)).toEqual([
      'This',
      'is',
      'my',
      'stor',
      'y,',
    ]);
  });

  it('where every verse has its own words there is no refrain: Greensleeves', () => {
    expect(hymn('What_Child_Is_This-Greensleeves.abc').sections.length).toBe(1);
  });

  it('P: and words above the staff name sections', () => {
    const { score } = read('K:C\nP:Verse\nC4 |\nP:Chorus\nD4 | "^Bridge" E4 |]');
    expect(score.sections.map(({ id, kind, from }) => [id, kind, from / QUARTER])).toEqual([
      ['verse', 'verse', 0],
      ['chorus', 'chorus', 4],
      ['bridge', 'bridge', 8],
    ]);
  });
});

describe('What else a file says', () => {
  it('New Britain: facts, tempo, introduction', () => {
    const score = hymn('Amazing_Grace-New_Britain.abc');
    expect(score.facts).toMatchObject({
      title: 'Amazing Grace',
      tune: 'New Britain',
      hymnMeter: '8.6.8.6',
      rights: 'public domain.  This score is a part of the Open Hymnal Project, 2006 Revision.',
    });
    expect(score.facts.other).toContainEqual(['OHAUTHOR', 'Newton, John (1725-1807)']);
    expect(score.tempo).toEqual({ beat: QUARTER, perMinute: 100 });
    // !sintro! stands before beat 3 of bar 12, !eintro! at the end.
    const [introduction] = score.introduction;
    expect(Time.placeOf(score, introduction?.from ?? 0)).toEqual({ bar: 12, beat: 3 });
    expect(introduction?.to).toBe(Time.endOf(score));
  });

  it('voices stand on the staves of the file, the tune on top; what has no music is left out', () => {
    const score = hymn('Praise_My_Soul_The_King_Of_Heaven-Praise_My_Soul-Lauda_Anima.abc');
    expect(score.melody).toBe('S1V1');
    expect(score.voices.map(({ id, staff, clef }) => [id, staff, clef])).toEqual([
      ['S1V1', 1, 'treble'],
      ['S1V2', 1, 'treble'],
      ['S2V1', 2, 'bass'],
      ['S2V2', 2, 'bass'],
    ]);
  });

  it('what lies over a bar is a voice of its own: the second tenor note of Nun danket, bar 14', () => {
    const score = hymn('Now_Thank_We_All_Our_God-Nun_Danket.abc');
    const over = score.voices.find(({ id }) => id === 'S2b');
    const notes = over?.notes.filter((note) => note.pitches.length > 0) ?? [];
    expect(notes.map((note) => note.pitches)).toEqual([['G3']]);
    expect(Time.placeOf(score, notes[0]?.at ?? 0)).toEqual({ bar: 14, beat: 4 });
  });

  it('chord symbols last until the next; what is none is told', () => {
    const { score, warnings } = read('K:C\n"C"C2 "Am7/G"D2 | "N.C."E2 "xyz"F2 |]');
    expect(
      score.chords.map(({ at, length, chord }) => [at / QUARTER, length / QUARTER, chord?.root]),
    ).toEqual([
      [0, 2, 'C'],
      [2, 2, 'A'],
      [4, 4, undefined],
    ]);
    expect(warnings).toMatchObject([{ code: 'chord-not-read', line: 6 }]);
  });

  it('bytes that are not UTF-8 are Latin-1, and the line is told', () => {
    const text = 'X:1\nT:Crüger\nM:4/4\nL:1/4\nK:C\nC4 |]\n';
    const result = Abc.read(Uint8Array.from(text, (sign) => sign.charCodeAt(0)));
    expect(result).toMatchObject({ ok: true, warnings: [{ code: 'info-latin-1', line: 2 }] });
    expect(result.ok && result.value[0]?.facts.title).toBe('Crüger');
    const utf8 = Abc.read(new TextEncoder().encode(text));
    expect(utf8).toMatchObject({ ok: true, warnings: [] });
    expect(utf8.ok && utf8.value[0]?.facts.title).toBe('Crüger');
  });

  it('a book of songs: the readable ones come, the other is told', () => {
    const song = (title: string, key: string): string =>
      `X:1\nT:${title}\nM:4/4\nL:1/4\n${key}\nC4 |]\n\n`;
    const result = Abc.read(song('One', 'K:C') + song('Two', '') + song('Three', 'K:G'));
    if (!result.ok) throw new Error('nothing was read');
    expect(result.value.map(({ facts }) => facts.title)).toEqual(['One', 'Three']);
    expect(result.warnings).toContainEqual(
      expect.objectContaining({ code: 'key-missing', line: 8 }),
    );
  });
});

describe('a tune without end', () => {
  const HEAD = 'X:1\nT:Long\nL:1/4\nM:4/4\nK:C\n';
  it.each([
    ['chords of six, in one line', '[CEGceg] '.repeat(100_000)],
    ['chords of six, in many lines', '[CEGceg] [CEGceg]|\n'.repeat(50_000)],
    ['one chord', `[${'CEGceg'.repeat(140_000)}]`],
    ['grace notes', `{${'CEGceg'.repeat(140_000)}}C`],
    ['notes', 'CEGceg'.repeat(140_000)],
  ])('is refused before it is read to its end: %s', (_, music) => {
    const start = process.cpuUsage();
    const read = Abc.read(HEAD + music);
    const { user, system } = process.cpuUsage(start);
    expect((user + system) / 1000, 'milliseconds of work').toBeLessThan(1000);
    expect(read.ok).toBe(false);
    if (read.ok) return;
    expect(read.problems.map(({ code }) => code)).toEqual(['too-long']);
    expect(read.problems[0]?.message).toBe('The tune has more than 60000 notes.');
  });
});
