export type FactKind =
  | 'title'
  | 'key'
  | 'time'
  | 'tempo'
  | 'credit'
  | 'rights'
  | 'tune'
  | 'subtitle'
  | 'names'
  | 'other';

/** Of who made what, joined by an “and” where one made both: `Text und Musik`. */
const MAKERS =
  'words|text|lyrics|poem|music|melody|composer|author|setting|harmony|arrangement|arr|arr.|translation|credit|credits|' +
  'musik|worte|melodie|weise|satz|dichter|komponist|autor|übersetzung|bearbeitung|' +
  'tekst|muziek|componist|dichter|vertaling|bewerking|' +
  'paroles|musique|mélodie|auteur|compositeur|traduction|' +
  'letra|música|melodía|autor|autora|compositor|compositora|traducción|arreglo|' +
  'melodia|tradução|arranjo|' +
  'testo|parole|musica|autore|compositore|traduzione|arrangiamento|' +
  'melodi|kompositör|författare|översättning|arrangemang|' +
  'musikk|komponist|forfatter|oversættelse|oversettelse|' +
  'sanat|sävel|säveltäjä|sanoittaja|käännös|suomennos|sovitus|' +
  'słowa|muzyka|tłumaczenie|opracowanie|slova|hudba|překlad|úprava|' +
  'szöveg|zene|dallam|szerző|fordítás';
const AND = new Set('and|und|en|et|y|e|och|og|ja|i|a|és|&'.split('|'));

/**
 * What people write before the colon over a song, whole (common practice, in English and in the languages that sections
 * are named in: German, Dutch, French, Spanish, Portuguese, Italian, Swedish, Danish and Norwegian, Finnish, Polish,
 * Czech and Hungarian).
 */
const LABELS: readonly (readonly [words: string, kind: FactKind])[] = [
  [
    'title|song|titel|lied|liedtitel|titre|chant|título|canción|canto|canção|titolo|sång|sang|tittel|nimi|laulu|tytuł|pieśń|název|píseň|cím|ének',
    'title',
  ],
  [
    'subtitle|untertitel|ondertitel|sous-titre|subtítulo|sottotitolo|undertitel|undertittel|alaotsikko|podtytuł|podtitul|alcím',
    'subtitle',
  ],
  [
    'key|key of|in|tonart|ton|toonsoort|toonaard|tonalité|tonalidad|tonalidade|tono|tom|tonalità|toneart|sävellaji|tonacja|tónina|hangnem',
    'key',
  ],
  [
    'time|meter|metre|time signature|takt|taktart|maat|maatsoort|mesure|compás|compasso|tahti|tahtilaji|metrum|ütem',
    'time',
  ],
  ['tempo|speed|bpm|tempó', 'tempo'],
  ['tune|melody name', 'tune'],
  [MAKERS, 'credit'],
  [
    'by|words by|music by|words and music by|translation by|arrangement by|arranged by|translated by|written by|arranger',
    'credit',
  ],
  [
    'copyright|rights|license|licence|©|rechte|lizenz|rechten|licentie|droits|licence|derechos|licencia|direitos|licença|diritti|licenza|rättigheter|licens|rettigheder|rettigheter|lisens|oikeudet|lisenssi|prawa|licencja|práva|jogok',
    'rights',
  ],
  [
    'chords|chord names|akkorde|akkoorden|acordes|accords|accordi|ackord|akkorder|soinnut|akordy|akkordok',
    'names',
  ],
  [
    'capo|kapo|kapodaster|note|notes|source|from|scripture|scriptures|theme|themes|topics|language|first line|hymn meter|meter of the words|credit line|date|quelle|bibelstelle|thema|themen|sprache|bron|taal|fuente|fonte|tema|idioma|lingua|källa|kilde|språk|sprog|lähde|kieli|źródło|język|zdroj|jazyk|forrás|nyelv',
    'other',
  ],
];
const KINDS = new Map(
  LABELS.flatMap(([words, kind]) => words.split('|').map((word) => [word, kind] as const)),
);
const RIGHTS = /^(words|translation|tune|arrangement) rights( (holder|licen[cs]e|reason|where))?$/;

/** What stands behind such a label; null: it is none of them. */
export function kindOfLabel(label: string): FactKind | null {
  const plain = label.trim().normalize('NFC').toLowerCase();
  const known = KINDS.get(plain);
  if (known) return known;
  if (RIGHTS.test(plain)) return 'other';
  // Two makers in one: `Text und Musik`.
  const [one = '', and = '', other = '', ...more] = plain.split(/ +/);
  const isBoth = KINDS.get(one) === 'credit' && KINDS.get(other) === 'credit';
  return isBoth && AND.has(and) && more.length === 0 ? 'credit' : null;
}

/** `Tonart` and its like in languages that call notes as German does: H is B, B is B flat. */
const GERMAN_KEY = /^(?:tonart|toneart|sävellaji|tonacja|tónina|hangnem)$/iu;
/** … and in those that call them do, re, mi. */
const SYLLABLE_KEY = /^(?:ton|tonalité|tonalidad|tonalidade|tono|tom|tonalità)$/iu;

/** How the notes of a key are called after its label. */
export function notesAfter(label: string): 'German' | 'solfège' | 'letters' {
  const plain = label.normalize('NFC');
  return GERMAN_KEY.test(plain) ? 'German' : SYLLABLE_KEY.test(plain) ? 'solfège' : 'letters';
}
