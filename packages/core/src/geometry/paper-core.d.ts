/// <reference types="paper" />
declare module 'paper/dist/paper-core.js' {
  const scope: paper.PaperScope;
  export default scope;
}
