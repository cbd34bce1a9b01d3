// Before anything is drawn: the light of the page as it was chosen, so that a page opened anew lights no dark room up.
// The page's own script says the same a moment later (web/theme.ts). It may not stand in the page itself: no inline script.
(() => {
  let theme = null;
  let dim = null;
  try {
    theme = localStorage.getItem('tonestep.theme');
    dim = localStorage.getItem('tonestep.dim');
  } catch {
    // Storage is refused: as the device asks.
  }
  const isDark =
    theme === 'dark' || (theme !== 'light' && matchMedia('(prefers-color-scheme: dark)').matches);
  const light = dim === 'on' && /^#\/run(\/|$)/.test(location.hash) ? 'dim' : isDark ? 'dark' : 'light';
  document.documentElement.dataset.theme = light;
  // The ground before the style sheet is there.
  document.querySelector('meta[name="color-scheme"]').content = light === 'light' ? 'light' : 'dark';
})();
