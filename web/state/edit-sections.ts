import type { Score, SectionKind } from '#music';

export const KIND_NAMES: Readonly<Record<SectionKind, string>> = {
  verse: 'verse',
  refrain: 'refrain',
  chorus: 'chorus',
  bridge: 'bridge',
  tag: 'tag',
  intro: 'intro',
  ending: 'ending',
  vamp: 'vamp (open loop)',
  other: 'another part',
};

/** What a section of a kind is called, told from those that are called so already: `Bridge`, `Bridge 2`. */
export function sectionName(score: Score, kind: SectionKind): string {
  const plain = kind === 'other' ? 'Part' : kind.charAt(0).toUpperCase() + kind.slice(1);
  const taken = new Set(score.sections.map(({ name }) => name));
  if (!taken.has(plain)) return plain;
  let number = 2;
  while (taken.has(`${plain} ${number}`)) number += 1;
  return `${plain} ${number}`;
}
