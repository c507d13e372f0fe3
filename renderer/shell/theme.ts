/** Light, dark, or as the machine is set. */
export type Theme = 'light' | 'dark' | 'machine'
const KEY = 'penstock.theme'

export function chosenTheme(): Theme {
  try {
    const theme = localStorage.getItem(KEY)
    return theme === 'light' || theme === 'dark' ? theme : 'machine'
  } catch {
    return 'machine'
  }
}

/** Shows a theme and remembers it on this machine. */
export function chooseTheme(theme: Theme): void {
  if (theme === 'machine') delete document.documentElement.dataset.theme
  else document.documentElement.dataset.theme = theme
  try {
    if (theme === 'machine') localStorage.removeItem(KEY)
    else localStorage.setItem(KEY, theme)
  } catch {
    // The choice holds until the window is closed.
  }
}
