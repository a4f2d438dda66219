import { NumberWords, PlayersInKey, type WeighedRole } from '#music';

/** Someone whose hands can count in choosing a key. */
export interface HandsChoice {
  readonly id: string;
  readonly name: string;
  readonly role: WeighedRole;
  readonly level: string;
  readonly counts: boolean;
  readonly byButton: boolean | null;
  /** Who it is, whatever they play. */
  readonly player: { readonly id: string };
}

/** For whose hands a page is laid out: a member, or whoever plays. */
export interface LaidOutFor {
  readonly id: string;
  readonly name: string;
}

/**
 * All that is chosen about hands, in one line.
 * @param laidOut missing: no page is laid out here, only keys are weighed
 * @example For Joel at the keys; Elias on the guitar and Dora on the bass count too
 */
export function sayHands(choices: readonly HandsChoice[], laidOut?: LaidOutFor): string {
  const counting = choices.filter(({ counts }) => counts);
  const names = (list: readonly HandsChoice[]) =>
    NumberWords.listed(list.map(PlayersInKey.sayPlayer));
  if (!laidOut)
    return counting.length === 0
      ? 'The keys are weighed for nobody’s hands'
      : `The keys are weighed for ${names(counting)}`;
  const isTheirs = ({ role, player }: HandsChoice) => role === 'keys' && player.id === laidOut.id;
  const others = counting.filter((each) => !isTheirs(each));
  const said = `For ${PlayersInKey.sayPlayer({ name: laidOut.name, role: 'keys' })}`;
  const own = others.length < counting.length;
  if (others.length === 0) return own ? said : `${said}; no hands count in the key`;
  if (!own) return `${said}; in the key ${names(others)} count${others.length === 1 ? 's' : ''}`;
  return `${said}; ${names(others)} count${others.length === 1 ? 's' : ''} too`;
}
