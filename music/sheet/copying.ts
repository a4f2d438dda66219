/** Stands wherever a sheet is printed or can be. Common practice: the law of the place and the licence decide. */
export const COPYING =
  'Copying words and music can need a licence: keep to the law where you are and to your team’s own licence.';
