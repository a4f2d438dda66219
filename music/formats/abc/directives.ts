/**
 * Directives that concern the page, the sound of a playing program, or how a program writes: they hold no music and no
 * words. Names from ABC 2.1, sections 10–11, and the formatting parameters of abcm2ps, for which the Open Hymnal is made.
 */
const LAYOUT_TEXT = `abc abc-version abc-charset abc-include abc-creator abcm2ps annotationfont autoclef balancespace
barlabelfont barnumbers barnumberfirst barsperstaff beginps endps botmargin breathdlw breaklimit bstemdown cancelkey
chordnames clip combinevoices comball composerfont composerspace contbarnb continueall custom dateformat deco decoerr
dblrepbar diminuendo dynalign dynamic encoding exprabove exprbelow flatbeams font footer footerfont format freegchord
gchordbox gchordfont graceslurs gracespace gutter header headerfont hyphencont historyfont indent infofont infoline
infoname infospace keywarn landscape leftmargin linebreak lineskipfac linewarn maxpages maxshrink maxstaffsep
maxsysstaffsep measurebox measurefirst measurenb measurefont MIDI micronewps microscale multicol musicfont musicspace
musiconly newpage notespacingfactor oneperpage pageheight pagewidth parskipfac partsbox partsfont partsspace playtempo
pos postscript printparts printtempo ps repeatfont rightmargin scale score-spacing sep setbarnb setdefl setfont
shiftunison slurheight smf spacing splittune squarebreve staffscale staffsep staffwidth staffnonote staves-sep
stemheight straightflats stretchlast stretchstaff subtitlefont subtitlespace sysstaffsep tempofont textfont textoption
textspace timewarn titlecaps titlefont titleformat titleleft titlespace titletrim topmargin topspace tuplets vocal
vocalabove vocalfont vocalspace voicefont voicescale volumefont vskip withxrefs wordsfont wordsspace writefields
writehistory landscape flatbeams EPS graceword nobeams measure alignbars straightflags propagate-accidentals-none`;

const LAYOUT = new Set(LAYOUT_TEXT.split(/\s+/).map((name) => name.toLowerCase()));

export function isLayout(name: string): boolean {
  const lower = name.toLowerCase();
  return LAYOUT.has(lower) || /font$|space$|margin$|box$/.test(lower);
}
