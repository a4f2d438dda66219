export { counted, listed } from '../score/number-words.ts';
