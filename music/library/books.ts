/**
 * The books of the Bible with the number of their chapters and the short names people write. Chapter counts of the 66
 * books as in the Authorized Version; of the deuterocanonical ones as in its Apocrypha, where Daniel's additions are
 * books of one chapter and Esther's stand in chapters 10–16, and as in the New Revised Standard Version (3 and 4
 * Maccabees). The test adds them up to the known totals: 929 chapters in the Old Testament, 260 in the New.
 */
export interface Book {
  readonly name: string;
  readonly chapters: number;
  /** Lower case, without points or spaces; the name itself and its beginnings need not stand here. */
  readonly short: readonly string[];
  /** Of a book of one chapter, where they are counted alike everywhere. */
  readonly verses?: number;
}

const book = (name: string, chapters: number, short = '', verses?: number): Book => ({
  name,
  chapters,
  short: short.split(' ').filter((each) => each !== ''),
  ...(verses !== undefined && { verses }),
});

export const OLD_TESTAMENT: readonly Book[] = [
  book('Genesis', 50, 'gn'),
  book('Exodus', 40, 'ex'),
  book('Leviticus', 27, 'lv'),
  book('Numbers', 36, 'nm nb'),
  book('Deuteronomy', 34, 'dt'),
  book('Joshua', 24, 'jos'),
  book('Judges', 21, 'jdg jg jgs'),
  book('Ruth', 4, 'rt'),
  book('1 Samuel', 31, '1sm'),
  book('2 Samuel', 24, '2sm'),
  book('1 Kings', 22, '1kgs 1kg'),
  book('2 Kings', 25, '2kgs 2kg'),
  book('1 Chronicles', 29, '1chr'),
  book('2 Chronicles', 36, '2chr'),
  book('Ezra', 10, 'ezr'),
  book('Nehemiah', 13, 'neh'),
  book('Esther', 10, 'est'),
  book('Job', 42, 'jb'),
  book('Psalms', 150, 'ps psalm pss psa'),
  book('Proverbs', 31, 'prv pr'),
  book('Ecclesiastes', 12, 'eccl qoheleth qoh'),
  book('Song of Songs', 8, 'song songofsolomon canticles sg sos'),
  book('Isaiah', 66, 'is'),
  book('Jeremiah', 52, 'jer jr'),
  book('Lamentations', 5, 'lam'),
  book('Ezekiel', 48, 'ez ezek ezk'),
  book('Daniel', 12, 'dn'),
  book('Hosea', 14, 'hos'),
  book('Joel', 3, 'jl'),
  book('Amos', 9, 'am'),
  book('Obadiah', 1, 'ob', 21),
  book('Jonah', 4, 'jon'),
  book('Micah', 7, 'mic mi'),
  book('Nahum', 3, 'na'),
  book('Habakkuk', 3, 'hab hb'),
  book('Zephaniah', 3, 'zeph zep'),
  book('Haggai', 2, 'hag hg'),
  book('Zechariah', 14, 'zech zec'),
  book('Malachi', 4, 'mal'),
];

export const NEW_TESTAMENT: readonly Book[] = [
  book('Matthew', 28, 'mt matt'),
  book('Mark', 16, 'mk'),
  book('Luke', 24, 'lk'),
  book('John', 21, 'jn jhn'),
  book('Acts', 28, 'actsoftheapostles'),
  book('Romans', 16, 'rom rm'),
  book('1 Corinthians', 16, '1cor'),
  book('2 Corinthians', 13, '2cor'),
  book('Galatians', 6, 'gal'),
  book('Ephesians', 6, 'eph'),
  book('Philippians', 4, 'phil php'),
  book('Colossians', 4, 'col'),
  book('1 Thessalonians', 5, '1thes 1th'),
  book('2 Thessalonians', 3, '2thes 2th'),
  book('1 Timothy', 6, '1tm'),
  book('2 Timothy', 4, '2tm'),
  book('Titus', 3, 'ti'),
  book('Philemon', 1, 'phlm phm', 25),
  book('Hebrews', 13, 'heb'),
  book('James', 5, 'jas jm'),
  book('1 Peter', 5, '1pt'),
  book('2 Peter', 3, '2pt'),
  book('1 John', 5, '1jn'),
  book('2 John', 1, '2jn', 13),
  book('3 John', 1, '3jn', 15),
  book('Jude', 1, 'jude', 25),
  book('Revelation', 22, 'rev rv revelations apocalypse'),
];

export const DEUTEROCANONICAL: readonly Book[] = [
  book('Tobit', 14, 'tob tb'),
  book('Judith', 16, 'jdt'),
  book('Additions to Esther', 16, 'addesth addest esthergreek'),
  book('Wisdom', 19, 'wis wisdomofsolomon ws'),
  book('Sirach', 51, 'sir ecclesiasticus ecclus'),
  book('Baruch', 6, 'bar'),
  book('Letter of Jeremiah', 1, 'letjer epistleofjeremiah'),
  book('Song of the Three', 1, 'songthr songofthethreeyoungmen prayerofazariah prazar'),
  book('Susanna', 1, 'sus'),
  book('Bel and the Dragon', 1, 'bel'),
  book('1 Maccabees', 16, '1mc'),
  book('2 Maccabees', 15, '2mc'),
  book('3 Maccabees', 7, '3mc'),
  book('4 Maccabees', 18, '4mc'),
  book('1 Esdras', 9, '1esd'),
  book('2 Esdras', 16, '2esd'),
  book('Prayer of Manasseh', 1, 'prman'),
];

export const BOOKS: readonly Book[] = [...OLD_TESTAMENT, ...NEW_TESTAMENT, ...DEUTEROCANONICAL];
