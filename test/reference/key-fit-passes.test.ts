import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { KeyFit, Keys, Pitches, Transpose, type ArrangedPass, type Key, type Singer } from '#music';
import { hymn } from '#test/support/hymn.ts';
import { HYMN_FILES } from '#test/support/hymns.ts';

const NEW_BRITAIN = hymn('Amazing_Grace-New_Britain.abc');
const G: Key = { tonic: 'G', mode: 'major' };
const ADA: Singer = { id: 'ada', name: 'Ada', comfortable: { low: 'A3', high: 'D5' } };
const TOMAS: Singer = { id: 'tomas', name: 'Tomas', comfortable: { low: 'A2', high: 'E4' } };
const form = (...ups: number[]): ArrangedPass[] =>
  ups.map((up, i) => ({
    section: NEW_BRITAIN.sections[0]?.id ?? '',
    verse: i + 1,
    ...(up === 0 ? {} : { up }),
  }));

describe('a change of key inside a song', () => {
  it('without one there is nothing to say', () => {
    const found = KeyFit.passes(NEW_BRITAIN, [ADA], G, { form: form(0, 0, 0) });
    expect(found.changes).toEqual([]);
    expect(found.passes.map(({ key }) => key.tonic)).toEqual(['G', 'G', 'G']);
  });

  it('passes through a section that is gone are passed over', () => {
    const gone = [{ section: 'gone', verse: null, up: 3 }, ...form(0, 2)];
    const found = KeyFit.passes(NEW_BRITAIN, [ADA], G, { form: gone });
    expect(found.passes.map(({ key }) => key.tonic)).toEqual(['G', 'A']);
    expect(found.changes.map(({ opening }) => opening)).toEqual([
      'From verse 2, up a whole step, in A major',
    ]);
  });

  it('the last verse up a step: what it does to each voice, with its bar', () => {
    const { changes, passes } = KeyFit.passes(NEW_BRITAIN, [ADA, TOMAS], G, {
      form: form(0, 0, 0, 2),
    });
    expect(passes.map(({ name, key }) => `${name} ${key.tonic}`)).toEqual([
      'Verse 1 G',
      'Verse 2 G',
      'Verse 3 G',
      'Verse 4 A',
    ]);
    // D5 in bar 7 is E5 in A: a step above D5; D5 stands there for 7 of the tune's 48 quarters, 14.6 % (trade figures).
    expect(changes).toEqual([
      expect.objectContaining({
        index: 3,
        key: { tonic: 'A', mode: 'major' },
        interval: { steps: 1, semitones: 2 },
        opening: 'From verse 4, up a whole step, in A major',
        voices: [
          {
            voice: 'ada',
            words:
              'the top is E5 for Ada, in bar 7, a step over what sits easily (15\u00a0% of the singing)',
            isOutside: true,
          },
          {
            voice: 'tomas',
            words: 'the top is E4 for Tomas, with no room to spare',
            isOutside: false,
          },
        ],
      }),
    ]);
  });

  it('up a half step, back, and down', () => {
    const found = KeyFit.passes(NEW_BRITAIN, [ADA], G, { form: form(0, 1, 0, -2) });
    expect(found.changes.map(({ opening }) => opening)).toEqual([
      'In verse 2, up a half step, in A♭ major',
      'In verse 3, back in G major',
      'From verse 4, down a whole step, in F major',
    ]);
    expect(found.changes[2]?.voices.map(({ words }) => words)).toEqual([
      'the lowest note is C4 for Ada, with a step and a half to spare',
    ]);
  });

  it('the same octave is kept up there, though another would lie better; who is free takes that', () => {
    const at = (reads?: Singer['reads']) =>
      KeyFit.passes(
        NEW_BRITAIN,
        [{ ...TOMAS, comfortable: { low: 'G3', high: 'D5' }, ...(reads ? { reads } : {}) }],
        G,
        {
          form: form(0, 5),
        },
      ).passes.map(({ voices }) => voices[0]?.octave);
    expect(at()).toEqual(['as written', 'as written']);
    expect(at('free')).toEqual(['as written', 'octave below']);
  });
});

describe('whatever the tune and the pass', () => {
  const up = fc.integer({ min: -5, max: 5 });
  const file = fc.constantFrom(...HYMN_FILES);
  const low = fc.integer({ min: 45, max: 62 });

  it('a raised pass lies as the whole song does in that key, when the song is moved there', () => {
    fc.assert(
      fc.property(file, up, low, (name, by, from) => {
        const score = hymn(name);
        const home = score.keys[0]?.key as Key;
        const singer: Singer = {
          id: 'a',
          name: 'Ada',
          comfortable: { low: named(from), high: named(from + 14) },
          reads: 'as written',
        };
        const whole = score.form.map((pass) => ({ ...pass, up: by }));
        const { passes } = KeyFit.passes(score, [singer], home, { form: whole });
        const steps = passes[0] ? Pitches.requirePitch(`${passes[0].key.tonic}4`).midi : 0;
        expect((steps - Pitches.midiOf(`${home.tonic}4`) - by) % 12 === 0).toBe(true);
        const way = Transpose.interval(home, passes[0]?.key ?? home, by < 0 ? 'down' : 'up');
        expect(by === 0 ? 0 : way.semitones).toBe(by);
        const moved = Transpose.by(score, way);
        const row = KeyFit.table(moved, [singer], { keys: [moved.keys[0]?.key as Key] }).rows[0];
        for (const pass of passes) {
          const own = row?.perSection.find(({ section }) => section === pass.section);
          const { voice: _v, name: _n, octave: _o, ...fit } = pass.voices[0] ?? {};
          expect(own).toMatchObject(fit);
        }
      }),
      { numRuns: 80 },
    );
  });

  it('the key is one that people read', () => {
    fc.assert(
      fc.property(fc.nat(11), up, (at, by) => {
        const key = Keys.keysToOffer('major')[at] ?? G;
        const found = KeyFit.passes(NEW_BRITAIN, [ADA], key, { form: form(0, by) });
        const raised = found.passes[1]?.key ?? G;
        expect(Math.abs(Keys.signatureOf(raised))).toBeLessThanOrEqual(6);
      }),
      { numRuns: 40 },
    );
  });
});

function named(midi: number): string {
  const names = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];
  return `${names[midi % 12] ?? ''}${Math.floor(midi / 12) - 1}`;
}
