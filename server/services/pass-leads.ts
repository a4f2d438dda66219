import type { ArrangedPass, Arrangement } from '#music';
import type { NameOf } from './shown-names.ts';

type StoredForm = readonly ArrangedPass[] | null | undefined;

/** The members who lead a pass, each with the path of the field that names them. `field`: path of the form. */
export function leadsIn(
  field: string,
  form: StoredForm,
): { readonly member: string; readonly field: string }[] {
  return (form ?? []).flatMap(({ lead }, at) =>
    lead ? [{ member: lead, field: `${field}.${at}.lead` }] : [],
  );
}

/** The form with the leads of its passes changed; a pass without one is led as usual. */
export function withLeads(form: readonly ArrangedPass[], leadFor: NameOf): ArrangedPass[] {
  return form.map(({ lead: member, ...pass }) => {
    const lead = leadFor(member ?? null);
    return lead === null ? pass : { ...pass, lead };
  });
}

/** What a page is made from: a name, as whoever looks may read it, in the place of each id. */
export function withNamedLeads(arrangement: Arrangement, nameOf: NameOf): Arrangement {
  const { form } = arrangement;
  return form ? { ...arrangement, form: withLeads(form, nameOf) } : arrangement;
}
