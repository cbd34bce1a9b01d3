/** Goes up with every change that moves a reading; docs/changelog.md says what moved. */
export const METHOD_VERSION = '5';
