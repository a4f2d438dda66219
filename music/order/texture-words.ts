import type { ArrangedPass, Texture } from '../parts/arrangement.ts';
import { HOW } from '../parts/form/endings.ts';
import { sayPasses } from '../parts/form/order-words.ts';
import { namePasses } from '../parts/form/textures.ts';
import { passesOf, type NamedPass } from '../score/form.ts';
import type { Score } from '../score/score.ts';

const SAID: Readonly<Record<Texture, string>> = {
  held: 'held',
  answered: 'answered',
  leading: 'leading on',
  'every beat': 'on every beat',
  swaying: 'swaying',
  broken: 'broken',
};

const textureOf = ({ pass }: NamedPass): Texture => (pass as ArrangedPass).texture ?? 'held';

/**
 * How a song builds, pass by pass, where it does, and how it ends: `verses 1 and 2 held, verse 3 leading on, verse 4 on
 * every beat; it ends broadly`. Empty where every pass is held and ends so, as is usual.
 * @param song with its arranged passes as its form
 */
export function sayTextures(song: Score): string {
  return [sayBuild(song), ...sayEndings(song)].filter((words) => words !== '').join('; ');
}

function sayEndings(song: Score): string[] {
  return passesOf(song).flatMap((each, i, { length }) => {
    const { ending } = each.pass as ArrangedPass;
    const who = i === length - 1 ? 'it' : namePasses([each]).toLocaleLowerCase();
    return ending ? [`${who} ends ${HOW[ending]}`] : [];
  });
}

function sayBuild(song: Score): string {
  const runs: NamedPass[][] = [];
  for (const pass of passesOf(song)) {
    const last = runs.at(-1);
    if (last?.[0] && textureOf(last[0]) === textureOf(pass)) last.push(pass);
    else runs.push([pass]);
  }
  const textures = runs.map((run) => textureOf(run[0] as NamedPass));
  if (textures.every((texture) => texture === 'held')) return '';
  if (runs.length === 1) return `${SAID[textures[0] ?? 'held']} all through`;
  // The order says which of them are sung in another key.
  const inKey = (run: readonly NamedPass[]) =>
    run.map((each): NamedPass => ({ ...each, pass: { ...each.pass, up: 0 } as ArrangedPass }));
  const said = runs.map((run, i) => `${sayPasses(inKey(run))} ${SAID[textures[i] ?? 'held']}`);
  return said.join(', ');
}
