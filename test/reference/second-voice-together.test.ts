import { describe, expect, it } from 'vitest';
import { Time, type Score, type Voice } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';
import { heard, moments, noteAt, partOf, SINGERS, stripped } from '#test/support/second-voices.ts';

/* Several who sing beside the tune, and everybody on it, as midi-file 1.2.4 hears their parts. */

const percent = (part: number, all: number) => `${Math.round((100 * part) / Math.max(1, all))} %`;

describe('Two who sing beside the tune', () => {
  const harmonies = [
    { id: 'first', name: 'Marit', voice: SINGERS.alto },
    { id: 'second', name: 'Dora', voice: { low: 'G3', high: 'A4' } },
  ];
  const bothOf = (score: Score) =>
    harmonies.map(({ id, name, voice }) =>
      partOf(score, voice, { player: { id, name }, team: { harmonies } }),
    );

  it('do not double each other where both lines are made', () => {
    let [same, all] = [0, 0];
    for (const file of HYMN_FILES) {
      const [first, second] = bothOf(stripped(file)).map((part) => heard(part).line);
      for (const note of second ?? []) {
        const other = noteAt(first ?? [], note.at);
        if (!other) continue;
        all += note.length;
        if (other.midi === note.midi) same += note.length;
      }
    }
    process.stdout.write(`two altos on one note: ${percent(same, all)} of the time\n`);
    expect(all).toBeGreaterThan(0);
    expect(same / all).toBeLessThan(0.25);
  });

  it('have two of the written voices, or the same one, and are told', () => {
    let [apart, together] = [0, 0];
    for (const file of HYMN_FILES) {
      const [first, second] = bothOf(hymn(file));
      if (first?.line !== second?.line) apart += 1;
      else {
        together += 1;
        expect(second?.summary).toContain('Marit sings it too.');
      }
      expect(first?.summary).not.toContain('sings it too');
    }
    process.stdout.write(
      `two altos in four-part hymns: ${apart} apart, ${together} on one voice\n`,
    );
    expect(apart + together).toBe(HYMN_FILES.length);
  });
});

describe('Passes in unison', () => {
  const unisonIn = (verses: readonly number[]) => (score: Score) =>
    score.form.map((pass) =>
      pass.verse !== null && verses.includes(pass.verse)
        ? { ...pass, unison: true as const }
        : pass,
    );

  it.each(['Amazing_Grace-New_Britain.abc', 'Holy_Holy_Holy-Nicaea.abc'])(
    '%s: verse 1 is the tune, the others are in parts, each written out and heard',
    (file) => {
      for (const score of [stripped(file), hymn(file)])
        for (const voice of [SINGERS.alto, SINGERS.tenor]) {
          const part = partOf(score, voice, { form: unisonIn([1]) });
          const [first, second] = part.score.sections;
          expect(part.score.sections).toHaveLength(2);
          expect(part.directions.map(({ words }) => words.join('; '))).toEqual([
            expect.stringContaining('in unison: sing the tune'),
            expect.stringContaining('in parts'),
          ]);
          const sounds = heard(part);
          const inside = (section: typeof first) =>
            moments(sounds).filter(
              ({ moment }) => section && moment >= section.from && moment < section.to,
            );
          // One octave for all of it, never broken.
          expect(new Set(inside(first).map(({ own, tune }) => own - tune)).size).toBe(1);
          expect([0, -12]).toContain((inside(first)[0]?.own ?? NaN) - (inside(first)[0]?.tune ?? NaN)); // prettier-ignore
          expect(inside(second).filter(({ own, tune }) => (own - tune) % 12 !== 0).length).toBeGreaterThan(10); // prettier-ignore
          const verses = score.form.length;
          expect(part.score.form.map(({ section }) => section)).toEqual([
            first?.id,
            ...Array.from({ length: verses - 1 }, () => second?.id),
          ]);
          const all = heard(part, 'form');
          expect(all.line.length).toBeGreaterThan((sounds.line.length / 2) * (verses - 1));
        }
    },
  );

  it('a song that is all in unison is the tune, and one where only the refrain splits splits there', () => {
    const score = stripped('Blessed_Assurance-Blessed_Assurance-Assurance.abc');
    const all = partOf(score, SINGERS.alto, {
      form: ({ form }) => form.map((pass) => ({ ...pass, unison: true as const })),
    });
    expect(all.line).toBeUndefined();
    const pitches = ({ notes }: Voice) => notes.map((note) => note.pitches);
    expect(pitches(Time.melodyOf(all.score))).toEqual(pitches(Time.melodyOf(score)));
    expect(all.directions[0]?.words).toContain('in unison: sing the tune');
    const refrain = score.sections.find(({ kind }) => kind === 'refrain');
    if (!refrain) throw new Error('a refrain');
    const split = partOf(score, SINGERS.alto, {
      form: ({ form }) =>
        form.map((pass) =>
          pass.section === refrain.id ? pass : { ...pass, unison: true as const },
        ),
    });
    const inRefrain = ({ moment }: { moment: number }) => moment >= refrain.from && moment < refrain.to; // prettier-ignore
    const sounds = moments(heard(split));
    expect(sounds.filter((each) => !inRefrain(each)).every(({ own, tune }) => own === tune)).toBe(true); // prettier-ignore
    expect(sounds.filter(inRefrain).some(({ own, tune }) => own !== tune)).toBe(true);
  });
});
