/** How the id of a written note begins that only goes on with the note before it: both are one note of the score. */
export const HELD = 'held';
