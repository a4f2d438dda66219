export const THEMES = ['device', 'light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];

const STORED = 'partbook.theme';

function stored(): Theme {
  try {
    const value = localStorage.getItem(STORED);
    return THEMES.find((theme) => theme === value) ?? 'device';
  } catch {
    return 'device';
  }
}

/** Paper or vestry: as the device has it, or as chosen on this device. */
class ThemeState {
  chosen = $state<Theme>(stored());

  constructor() {
    this.#show();
  }

  choose(theme: Theme): void {
    this.chosen = theme;
    this.#show();
    try {
      if (theme === 'device') localStorage.removeItem(STORED);
      else localStorage.setItem(STORED, theme);
    } catch {
      // A device that keeps nothing still shows what was chosen.
    }
  }

  #show(): void {
    if (this.chosen === 'device') delete document.documentElement.dataset['theme'];
    else document.documentElement.dataset['theme'] = this.chosen;
  }
}

export const theme = new ThemeState();
