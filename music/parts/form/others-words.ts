import type { Score, Section } from '../../score/score.ts';
import type { Texture } from '../arrangement.ts';
import { endingFrom, sayEnding, textureOfEnding } from './endings.ts';
import { namePasses, type Alike } from './textures.ts';
import type { WrittenOut } from './written-out.ts';

/**
 * What is said beside a section for the passes that are read from it and played otherwise: `verse 2: every beat`,
 * `verses 3 and 4: on to the end, without the ending`.
 * @param whole the song before it is written out
 * @param section of the song as it is written out
 * @param inShort how each texture is played, in few words
 */
export function sayOthersAt(
  whole: Score,
  { textures, endings, others }: WrittenOut,
  section: Section,
  inShort: Readonly<Record<Texture, string>>,
): string[] {
  const written = textures.get(section.id) ?? 'held';
  const ends = endings.get(section.id)?.ending ?? null;
  const source = whole.sections.find(({ id }) => id === (section.copyOf ?? section.id));
  return (others.get(section.id) ?? []).map((alike: Alike): string => {
    const { texture, ending, passes } = alike;
    const how = texture === written ? [] : [inShort[texture]];
    if (ending === null && ends !== null) how.push('on to the end, without the ending');
    if (ending !== null && ending !== ends && source) {
      const from = endingFrom(whole, source);
      how.push(sayEnding(whole, { ending, texture: textureOfEnding(ending, texture), from }));
    }
    return `${namePasses(passes).toLocaleLowerCase()}: ${how.join('; ')}`;
  });
}
