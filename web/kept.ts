/** What this browser keeps under a name, as text; null where there is nothing or storage is refused. */
export const keptText = (key: string): string | null => {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
};

/** Keeps a text under a name; false where the browser refuses, and what is kept then lives as long as the page. */
export const keepText = (key: string, text: string | null): boolean => {
  try {
    if (text === null) localStorage.removeItem(key);
    else localStorage.setItem(key, text);
    return true;
  } catch {
    return false;
  }
};

/** What was kept as JSON; null where there is none or it is damaged. */
export const keptJson = (key: string): unknown => {
  try {
    return JSON.parse(keptText(key) ?? 'null');
  } catch {
    return null;
  }
};

export const keepJson = (key: string, value: unknown): boolean => keepText(key, JSON.stringify(value));
