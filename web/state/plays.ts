import type { Instruments, Level, Levels, Role } from '#music';

type Hand = keyof Levels;

/** What each role asks of a body: where somebody may stand on another rung than the usual one. */
const HANDS: Readonly<Record<Role, readonly Hand[]>> = {
  keys: ['right hand', 'left hand', 'pedal'],
  bass: ['bass'],
  guitar: ['guitar'],
  drums: ['drums'],
  'lead voice': ['voice'],
  'harmony voice': ['voice'],
  leader: [],
};

/**
 * The hands and instruments that can have a level of their own; none where the usual level says it already because
 * there is only one.
 */
export function handsOf(roles: readonly Role[]): Hand[] {
  const hands = [...new Set(roles.flatMap((role) => HANDS[role]))];
  return hands.length > 1 ? hands : [];
}

/** With a level for a hand, or with the usual one. */
export function withLevel(levels: Levels, hand: Hand, level: Level | null): Levels {
  const { [hand]: _, ...others } = levels;
  return level === null ? others : { ...others, [hand]: level };
}

/** What is usual is not written down. */
export const USUAL: Required<Instruments> = { transposeButton: false, bassStrings: 4, capo: 5 };

export function withInstrument<Name extends keyof Instruments>(
  instruments: Instruments,
  name: Name,
  value: Required<Instruments>[Name],
): Instruments {
  const { [name]: _, ...others } = instruments;
  return value === USUAL[name] ? others : { ...others, [name]: value };
}
