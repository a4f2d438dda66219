/** How a file or a text is read. */
export type SongFormat = 'abc' | 'words' | 'musicxml' | 'midi';
