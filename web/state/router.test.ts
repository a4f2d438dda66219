import { describe, expect, it } from 'vitest';
import { placeOf, Router } from './router.svelte.ts';

const ROUTES = ['/', '/songs/new', '/songs/:id', '/songs/:id/sheet'];

describe('An address', () => {
  it.each([
    ['/', '/', {}],
    ['/songs/new', '/songs/new', {}],
    ['/songs/ab12', '/songs/:id', { id: 'ab12' }],
    ['/songs/ab12/sheet', '/songs/:id/sheet', { id: 'ab12' }],
    ['/songs/ab12/', '/songs/:id', { id: 'ab12' }],
    ['/nowhere/at/all', null, {}],
  ])('%s is the page %s', (path, route, params) => {
    expect(placeOf(path, ROUTES)).toEqual({ route, params });
  });

  it('changes a value of the query in place and takes it away again', () => {
    history.replaceState({}, '', '/songs/a/sheet?level=beginner');
    const router = new Router();
    router.set('page', '2');
    expect(location.search).toBe('?level=beginner&page=2');
    router.set('page', null);
    expect(router.query.get('page')).toBeNull();
    expect(location.search).toBe('?level=beginner');
  });

  it.each([
    ['/about#copying', true, '/about#copying'],
    ['/songs?page=2#last', true, '/songs?page=2#last'],
    ['/s/abc#secret', false, '/'],
  ])('in a link to %s keeps its fragment; a set link is left to the browser', (to, ours, bar) => {
    history.replaceState({}, '', '/');
    const router = new Router();
    const link = document.body.appendChild(document.createElement('a'));
    link.href = to;
    const click = new MouseEvent('click', { bubbles: true, cancelable: true });
    let taken = false;
    const follow = (event: MouseEvent) => {
      router.follow(event);
      taken = event.defaultPrevented;
      event.preventDefault();
    };
    document.addEventListener('click', follow);
    link.dispatchEvent(click);
    document.removeEventListener('click', follow);
    link.remove();
    expect([taken, location.pathname + location.search + location.hash]).toEqual([ours, bar]);
  });
});
