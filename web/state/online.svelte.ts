/** Whether the device believes that it has a network. */
class Online {
  now = $state(navigator.onLine);

  constructor() {
    addEventListener('online', () => (this.now = true));
    addEventListener('offline', () => (this.now = false));
  }
}

export const online = new Online();
