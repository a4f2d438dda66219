/** How long a piece of work waits at most for a moment in which nothing else is done, in ms. */
const LONGEST_WAIT = 200;

/** The next moment in which the page has nothing else to do; where the browser cannot say, the next turn. */
export function idle(): Promise<void> {
  return new Promise((resolve) => {
    if (typeof requestIdleCallback === 'function')
      requestIdleCallback(() => resolve(), { timeout: LONGEST_WAIT });
    else setTimeout(resolve, 0);
  });
}
