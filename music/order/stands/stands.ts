/** What people have on their stands, and how little of it has to change. */
export { HEARD, PartShelf } from './part-shelf.ts';
export { LeastChange, newMemory, type StandMemory } from './least-change.ts';
export { leastPath, type LazyWay } from './least-path.ts';
export { peopleAfter } from './after.ts';
export { tell, type PersonTold } from './stand-words.ts';
export { warming } from './warming.ts';
