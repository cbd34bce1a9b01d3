/** Lets the browser keep the page for when the network is gone; after the first drawing, while nobody waits. */
export const keepPage = (): void => {
  if (!('serviceWorker' in navigator)) return;
  const register = (): void => {
    navigator.serviceWorker.register(new URL('./sw.js', document.baseURI)).catch(() => undefined);
  };
  if (document.readyState === 'complete') setTimeout(register, 1500);
  else addEventListener('load', () => setTimeout(register, 1500));
};
