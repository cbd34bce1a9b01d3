/** Free of the ports that other servers usually take. */
const USUAL_PORT = 4747;

/** The port asked for in the environment variable PORT; null where it is no port. 0 lets the system choose. */
export const portFrom = (text: string | undefined): number | null => {
  if (text === undefined || text.trim() === '') return USUAL_PORT;
  const port = Number(text);
  return Number.isInteger(port) && port >= 0 && port <= 65535 ? port : null;
};
