import { BarsChanged, Keys, type Part } from '#music';
import type { PersonParts } from '#server/contract/person-parts.ts';

type Parted = PersonParts['pages'][number];

/** What was there, by the sheet that it stands on. */
export type ChangedSheets = Readonly<Record<string, string>>;

const isSung = (role: string): boolean => role === 'lead voice' || role === 'harmony voice';
/** A sheet of somebody: a lead’s page takes the place of a harmony voice’s. */
export const sheetName = ({ item, role }: { item: string | null; role: string }): string =>
  `${item ?? ''} ${isSung(role) ? 'sung' : role}`;

/**
 * What is otherwise on somebody’s sheets than when this device had them last: `Changed since it was last here: Joel’s left hand,
 * bars 4 to 7.` Sheets without a change are left out, and those that were not here.
 */
export function changedSince(was: PersonParts, now: PersonParts): ChangedSheets {
  const before = new Map(was.pages.map((page) => [sheetName(page), page]));
  const found = now.pages.flatMap((page): [string, string][] => {
    const old = before.get(sheetName(page));
    const words = old ? sayChange(old, page) : '';
    return words === '' ? [] : [[sheetName(page), `Changed since it was last here: ${words}.`]];
  });
  return Object.fromEntries(found);
}

function sayChange(was: Parted, now: Parted): string {
  if (was.kind === 'words' && now.kind === 'words') {
    const [old, key] = [was.sheet.heading.key, now.sheet.heading.key];
    return old === key ? saySetting(was, now) : `in ${key}, not in ${old}`;
  }
  if (was.kind !== 'part' || now.kind !== 'part') return '';
  const [old, key] = [keyOf(was.part), keyOf(now.part)];
  if (old !== key) return `in ${key}, not in ${old}`;
  const name = now.player.name;
  const hands = isSung(now.role)
    ? BarsChanged.sungBarsChanged(was.part, now.part).map((hand) => ({ ...hand, name: 'line' }))
    : BarsChanged.barsChanged(was.part, now.part);
  const bars = hands.length > 0 ? BarsChanged.sayBarsChanged(name, now.part, hands) : '';
  return [saySetting(was, now), bars].filter((words) => words !== '').join('; ');
}

const keyOf = ({ score }: Part): string => {
  const key = score.keys[0]?.key;
  return key ? Keys.sayKey(key) : '';
};

type Played = Extract<Parted, { played: unknown }>;

/** Button or capo are set otherwise. */
function saySetting({ played: was }: Played, { played: now }: Played): string {
  if ((was?.amount ?? 0) === (now?.amount ?? 0)) return '';
  return now?.words ?? `nothing is set any more, the page sounds as it stands`;
}
