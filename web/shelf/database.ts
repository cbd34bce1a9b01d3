const NAME = 'tonestep';
const VERSION = 1;

/** The browser's own store of larger things: readings with their photos, and the photo chosen for the next one. */
export type StoreName = 'readings' | 'things';

let opened: Promise<IDBDatabase> | null = null;

const open = (): Promise<IDBDatabase> => {
  opened ??= new Promise<IDBDatabase>((settle, fail) => {
    const request = indexedDB.open(NAME, VERSION);
    request.onupgradeneeded = () => {
      request.result.createObjectStore('readings', { keyPath: 'key' });
      request.result.createObjectStore('things');
    };
    request.onsuccess = () => settle(request.result);
    request.onerror = () => fail(request.error);
    request.onblocked = () => fail(new Error('another tab holds an older store open'));
  });
  return opened;
};

const within = async <T>(
  store: StoreName,
  mode: IDBTransactionMode,
  job: (store: IDBObjectStore) => IDBRequest<T>,
): Promise<T> => {
  const database = await open();
  return new Promise((settle, fail) => {
    const transaction = database.transaction(store, mode);
    const request = job(transaction.objectStore(store));
    transaction.oncomplete = () => settle(request.result);
    transaction.onabort = () => fail(transaction.error ?? request.error);
    transaction.onerror = () => fail(transaction.error ?? request.error);
  });
};

/** All values of a store, in the order of their keys. Rejects where the browser keeps nothing. */
export const allOf = <T>(store: StoreName): Promise<readonly T[]> =>
  within(store, 'readonly', (readings) => readings.getAll() as IDBRequest<T[]>);

export const getFrom = <T>(store: StoreName, key: string): Promise<T | undefined> =>
  within(store, 'readonly', (values) => values.get(key) as IDBRequest<T | undefined>);

export const putInto = async (store: StoreName, value: unknown, key?: string): Promise<void> => {
  await within(store, 'readwrite', (values) => values.put(value, key));
};

export const removeFrom = async (store: StoreName, key: string): Promise<void> => {
  await within(store, 'readwrite', (values) => values.delete(key));
};
