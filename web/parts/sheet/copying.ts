export { COPYING } from '#music';
