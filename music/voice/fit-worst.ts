import { compareRows, endsRow, type EndsAsked } from './fit-ends.ts';
import { raisedFrom, sayWhere, type SungAt } from './fit-form.ts';
import { melodyRow, type InVoice } from './fit-melody-row.ts';
import type { EndsRow, FitRow, VoiceRow } from './fit-row.ts';
import { betterOctave, place } from './fit-section.ts';
import type { Placed } from './placed.ts';

/**
 * One voice in the passes in which it has the tune worst, all that are sung in one key together: by the verdict, then by
 * the share outside, then by how far from the middle it lies; of equals the song’s own key, then the first. Who keeps one
 * octave keeps it when the key changes; who is free takes there the better one (as `passes` has it).
 * @param row the whole tune in the key itself
 * @param groups the form by its keys, at least one
 */
export function worstRow(row: FitRow, here: InVoice, groups: readonly SungAt[]): FitRow {
  return worstBy(row, groups, (group) => {
    const own = here.placed.flatMap((each, i) =>
      group.sections.has(each.section.id) ? [{ each, reading: here.readings[i] }] : [],
    );
    if (group.up === 0 && own.length === here.placed.length) return row;
    const interval = raisedFrom(here.interval, here.key, group.up);
    const placed = own.map(({ each: { section, octave }, reading }): Placed => {
      const isFree = reading === 'free';
      return place(
        section,
        isFree ? betterOctave([section], interval, here.bounds) : octave,
        interval,
      );
    });
    return melodyRow({ ...here, interval, placed });
  });
}

/** The same of a tune of which only the compass is known: it is that of every section. */
export function worstEnds(row: EndsRow, asked: EndsAsked, groups: readonly SungAt[]): EndsRow {
  return worstBy(row, groups, ({ up }) => {
    if (up === 0) return row;
    const interval = raisedFrom(asked.interval, asked.key, up);
    const reading = asked.reading === 'free' ? 'free' : row.octave;
    return endsRow({ ...asked, interval, reading });
  });
}

function worstBy<Row extends VoiceRow>(
  { key, interval }: Row,
  groups: readonly SungAt[],
  rowIn: (group: SungAt) => Row,
): Row {
  const all = groups.map((group) => ({ row: rowIn(group), where: group.where }));
  const { row, where } = all.reduce((worst, each) =>
    compareRows(each.row, worst.row) > 0 ? each : worst,
  );
  if (where === '') return row;
  return { ...row, key, interval, where, reason: sayWhere(where, row.reason) };
}
