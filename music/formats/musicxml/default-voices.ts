import type { OwnVoice } from './own-field.ts';

/** A part with its voices, by the staff of each in the part. */
export interface PartShape {
  readonly id: string;
  readonly name: string;
  readonly staves: number;
  readonly voices: readonly { readonly staff: number }[];
}

/** What voices are called and where they stand, where a file says no more than its parts. */
export function defaultVoices(parts: readonly PartShape[]): OwnVoice[] {
  const groups = new Set<string>();
  const voices: OwnVoice[] = [];
  let above = 0;
  for (const part of parts) {
    const base = part.name.replace(/\s+/g, ' ').trim() || part.id;
    let group = base;
    for (let n = 2; groups.has(group); n += 1) group = `${base} ${String(n)}`;
    groups.add(group);
    const many = part.voices.length > 1;
    part.voices.forEach(({ staff }, i) => {
      voices.push({
        id: many ? `${part.id}V${String(i + 1)}` : part.id,
        name: many ? `${group} ${String(i + 1)}` : group,
        group,
        staff: above + staff,
        order: voices.length,
      });
    });
    above += part.staves;
  }
  return voices;
}
