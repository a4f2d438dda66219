/** Figures alone do not say whether words fit a tune. */
export const STRESS_CAUTION =
  'The same figures are not enough: the stressed syllables must fall on the strong beats too. Most 8.6.8.6 are iambic (a MA-zing GRACE), most 8.7.8.7 trochaic (ALL the PEO-ple): sing a verse through before you choose.';
