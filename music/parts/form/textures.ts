import { passesOf, type NamedPass } from '../../score/form.ts';
import { numberWord } from '../../score/number-words.ts';
import type { Pass, Score, Section } from '../../score/score.ts';
import { barLength, feltBeat, meterAt } from '../../score/time.ts';
import { TEXTURES, type ArrangedPass, type Ending, type Texture } from '../arrangement.ts';
import { INTRODUCTION } from './introduction.ts';

export { namePasses } from '../../score/copy-names.ts';

export function textureOf(pass: Pass): Texture {
  return (pass as ArrangedPass).texture ?? 'held';
}

export function endingOf(pass: Pass): Ending | null {
  return (pass as ArrangedPass).ending ?? null;
}

/** How full a texture is, from 0. */
export const stepOf = (texture: Texture): number => TEXTURES.indexOf(texture);

/** The passes through a section that are played alike, in the order they first come. */
export interface Alike {
  readonly texture: Texture;
  /** How they end; null: as they are played. */
  readonly ending: Ending | null;
  readonly passes: readonly NamedPass[];
}

/** Groups of passes through a section by texture and ending; none where the form leaves the section out. */
export function alikeIn(passes: readonly NamedPass[], section: Section): Alike[] {
  const groups = new Map<string, Alike>();
  for (const each of passes) {
    if (each.section.id !== section.id) continue;
    const [texture, ending] = [textureOf(each.pass), endingOf(each.pass)];
    const sign = `${texture}, ${ending ?? ''}`;
    const before = groups.get(sign)?.passes ?? [];
    groups.set(sign, { texture, ending, passes: [...before, each] });
  }
  return [...groups.values()];
}

/** The same by texture alone, for whoever says endings by themselves. */
export function sameTextureIn(passes: readonly NamedPass[], section: Section): Alike[] {
  const plain = passes.map((each): NamedPass => {
    const { ending: _, ...pass } = each.pass as ArrangedPass;
    return { ...each, pass };
  });
  return alikeIn(plain, section);
}

/** The texture that the song begins with: its introduction is played like that. */
export function firstTexture(score: Score): Texture {
  const first = passesOf(score).find(({ section }) => section.id !== INTRODUCTION);
  return first ? textureOf(first.pass) : 'held';
}

/** How notes are struck in a texture, in few words, with the beats that a bar of the section has. */
export function sayTexture(score: Score, section: Section, texture: Texture): string {
  const meter = meterAt(score, section.from);
  const full = barLength(meter);
  if (full === null) return 'no meter: hold; strike again at each bar line';
  const beats = Math.round(full / feltBeat(meter));
  switch (texture) {
    case 'held':
      return 'hold; strike again on 1';
    case 'answered':
      return 'strike on 1, then one soft note again';
    case 'leading':
      return beats > 2
        ? 'hold; strike on 1 and again on the last beat'
        : 'hold; strike on 1 and again just before the next bar';
    case 'every beat':
      return `strike every beat, ${numberWord(beats)} to a bar`;
    case 'swaying':
      return 'bass, then chord';
    case 'broken':
      return 'the notes of the chord in turn';
  }
}

/**
 * What whoever holds their chords all the same is told of a texture: `the others play on every beat; you hold`. Empty
 * where the others hold too.
 */
export function sayOthers(score: Score, section: Section, texture: Texture): string {
  const meter = meterAt(score, section.from);
  const full = barLength(meter);
  if (full === null) return '';
  switch (texture) {
    case 'held':
    case 'answered':
      return '';
    case 'leading':
      return full > 2 * feltBeat(meter)
        ? 'the others strike again on the last beat; you hold'
        : 'the others strike again just before the next bar; you hold';
    case 'every beat':
      return 'the others play on every beat; you hold';
    case 'swaying':
      return 'the others sway, bass and then chord; you hold';
    case 'broken':
      return 'the others break the chords; you hold';
  }
}

/** How notes are struck, in fewer words still, for passes that are played otherwise than they are written. */
export const IN_SHORT: Readonly<Record<Texture, string>> = {
  held: 'hold',
  answered: 'one soft note after',
  leading: 'hold; again on the last beat',
  'every beat': 'every beat',
  swaying: 'bass, then chord',
  broken: 'broken chords',
};
