import { describe, expect, it } from 'vitest';
import { Keys, WordsAndChords, type Score } from '#music';

function read(text: string): Score {
  const result = WordsAndChords.read(text);
  if (!result.ok) throw new Error(result.problems[0]?.message);
  return result.value;
}

/**
 * What stands before the colon over a song: common practice in each language. Keys by German letters and by syllables as
 * above (LilyPond's note names in those languages).
 */
describe('Labels over a song in other languages', () => {
  it.each([
    ['Titel'],
    ['TITEL'],
    ['Lied'],
    ['Titre'],
    ['Título'],
    ['Canción'],
    ['Titolo'],
    ['Canto'],
    ['Tittel'],
    ['Sång'],
    ['Nimi'],
    ['Tytuł'],
    ['Název'],
    ['Cím'],
  ])('%s: names the song', (label) => {
    const score = read(`${label}: Der Morgenweg\n\nVerse 1\nG      C\nsome words here\n`);
    expect([score.facts.title, score.facts.other]).toEqual(['Der Morgenweg', []]);
  });

  it.each([
    'Text und Musik',
    'Worte & Weise',
    'Komponist',
    'Übersetzung',
    'Paroles et musique',
    'Auteur',
    'Letra y música',
    'Tradução',
    'Testo e musica',
    'Tekst en muziek',
    'Musik och text',
    'Tekst og melodi',
    'Sanat ja sävel',
    'Słowa i muzyka',
    'Hudba a text',
    'Szöveg és zene',
  ])('%s: says who made it', (label) => {
    const { facts } = read(`T\n${label}: Ada Example\n\nVerse 1\nG      C\nsome words here\n`);
    expect([facts.credits, facts.other]).toEqual([[`${label}: Ada Example`], []]);
  });

  it.each([
    ['Tonart: Es-Dur', 'E♭ major'],
    ['Toneart: h-moll', 'B minor'],
    ['Sävellaji: G-duuri', 'G major'],
    ['Tonacja: fis-moll', 'F♯ minor'],
    ['Hangnem: D-dúr', 'D major'],
    ['Tonalité: ré mineur', 'D minor'],
    ['Ton: Sol majeur', 'G major'],
    ['Ton: Sol M', 'G major'],
    ['Tonalidad: Fa# menor', 'F♯ minor'],
    ['Tom: Sib', 'B♭ major'],
    ['Tom: G', 'G major'],
    ['Tonalità: si bemolle maggiore', 'B♭ major'],
    ['Toonsoort: Em', 'E minor'],
  ])('%s is %s', (line, key) => {
    const [first] = read(`T\n${line}\n\nVerse 1\nC  G\nsome words here\n`).keys;
    expect(first && [Keys.sayKey(first.key), first.sure]).toEqual([key, true]);
  });

  it('but a name before a colon among the words is sung', () => {
    const score = read('T\n\nVerse 1\nG      C\nTom: we are here\n');
    expect(score.bars).toHaveLength(1);
    expect(score.facts.other).toEqual([]);
  });
});

/** What is written over a section: common practice in each language. */
describe('Names of sections in other languages', () => {
  it.each([
    ['Strophe 1', 'verse'],
    ['Estrofa 2', 'verse'],
    ['Estrofe', 'verse'],
    ['Strofa 3', 'verse'],
    ['Couplet 1', 'verse'],
    ['Säkeistö 1', 'verse'],
    ['Zwrotka 2', 'verse'],
    ['Sloka 1', 'verse'],
    ['Kehrvers', 'refrain'],
    ['Kehrreim', 'refrain'],
    ['KEHRREIM:', 'refrain'],
    ['Estribilho', 'refrain'],
    ['Omkväde', 'refrain'],
    ['Chœur', 'chorus'],
    ['Refrein', 'refrain'],
    ['Estribillo', 'refrain'],
    ['Refrão', 'refrain'],
    ['Ritornello', 'refrain'],
    ['Refräng', 'refrain'],
    ['Omkvæd', 'refrain'],
    ['Kertosäe', 'refrain'],
    ['CORO', 'chorus'],
    ['Puente', 'bridge'],
    ['Brücke', 'bridge'],
    ['Vorspiel', 'intro'],
    ['Introducción', 'intro'],
    ['Schluss', 'ending'],
    ['Vamp', 'vamp'],
  ])('%s is a %s', (name, kind) => {
    const [section] = read(`T\n\n${name}\nG      C\nsome words here\n`).sections;
    expect(section?.kind).toBe(kind);
  });
});
