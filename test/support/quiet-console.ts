import { afterEach, beforeEach, expect, vi, type MockInstance } from 'vitest';

/**
 * Output that nobody expected is a defect: a test that makes the program write to the console fails. A test that
 * expects it spies on that method itself and so takes the call away from here.
 */
const LOUD = ['warn', 'error'] as const;
let spies: MockInstance[] = [];

beforeEach(() => {
  spies = LOUD.map((method) => vi.spyOn(console, method));
});

afterEach(() => {
  const said = spies.flatMap((spy) => spy.mock.calls.map((call) => call.map(String).join(' ')));
  for (const spy of spies) spy.mockRestore();
  expect(said, 'console output that the test did not expect').toEqual([]);
});
