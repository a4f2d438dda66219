/**
 * The harmonies of six hymns, by hand for this project on 28 November 2026: chord by chord from the four written voices
 * printed as pitches (Open Hymnal Project), before looking at the program's reading, and not changed since. One reader,
 * so a second one would differ here and there. Rules of that hand: a chord is what the beat rests on; passing,
 * neighbouring and suspended notes belong to none; where only two notes a third apart sound over a new bass, the lower
 * is the root; a bass note alone is the root. The music is in the public domain.
 */
export interface HandAnalysis {
  readonly file: string;
  /** `quarter from the start:chord`, each until the next. Basses after a slash are left out. */
  readonly chords: string;
}

export const HAND_ANALYSES: readonly HandAnalysis[] = [
  {
    file: 'Our_God_Our_Help_In_Ages_Past-St_Anne.abc',
    chords:
      '0:C 2:F 3:C 4:Am 5:Dm7 6:G 7:C 9:Am 10:Em 11:Am 12:D 13:G 17:C 18:F 19:Dm 20:G 21:C 22:Dm 23:E 24:C 25:Dm 26:C 27:Dm 28:G 29:C',
  },
  {
    file: 'All_Praise_To_Thee_My_God_This_Night-Tallis_Canon.abc',
    chords:
      '0:G 1:D 3:Em 4:G 5:Am7 6:D 7:G 9:Am 10:F#dim 11:G 13:Am7 14:D7 15:G 17:Am 18:D 19:G 21:Am 22:D 23:G 25:Am 26:D 27:Em 28:Bm 29:Am 30:D 31:G',
  },
  {
    file: 'O_For_A_Thousand_Tongues-Azmon.abc',
    chords:
      '0:Eb 2:Ab 4:Eb 8:Ab 9:Eb7 10:Fm 12:Eb 14:Ab 16:Eb7 18:Ab 20:Eb 26:Ab 32:Db 38:Ab 42:Eb7 44:Ab',
  },
  {
    file: 'Christ_The_Lord_Is_Risen_Today-Llanfair.abc',
    chords:
      '0:F 2:Dm 4:F 5:Gm 6:C 8:F 9.5:Edim 10:F 11:Bb 11.5:F 12:Gm7 13:C 14:F 18:Dm 20:F 21:Gm 22:C 24:F 25.5:Edim 26:F 27:Bb 27.5:F 28:Gm7 29:C 30:F 32:Dm 34:Cm 35:Adim 36:Bb 37:Gm 38:C 40:F 41.5:C 42:F 43:Bdim 44:C 45.5:F 46:C 47:C7 48:F 51:Dm 52:F 53:Gm 54:C 56:F 57.5:Edim 58:F 59:Gm7 59.5:F 60:Gm7 61:C 62:F',
  },
  {
    file: 'Be_Thou_My_Vision-Slane.abc',
    chords:
      '0:Eb 2:Bb 2.5:Eb 3:Ab 4:Bb 5.5:Ab 6:Eb 8:Bb 9:Eb 12:Bb 16:Gm 17:Eb 18:Ab 19:Bb 20:Cm 21:Eb 24:Ab 25.5:Ddim 26:Ab 26.5:Bb 27:Ab 28:Bb 29:Eb 32:Bb 33:Ab 35:Gm 36:Eb 39:Ab 39.5:Eb 42:Bb 43:Eb',
  },
  {
    file: 'Let_All_Mortal_Flesh_Keep_Silence-Picardy.abc',
    chords:
      '0:Dm 6:Bbmaj7 7:Em7b5 8:Dm 14:Bb 15:Dm7 16:Gm7 18:F 19:C 20:F 24:Bb 28:Dm 30:Gm 32:Dm 38:C7sus4 39:F 40:Bb 43:Gm 44:A 48:D 52:Gm 56:Dm 59:Bb 60:Am 64:Dm 67:Dm7 68:Gm 70:C 71:F 72:Dm',
  },
];
