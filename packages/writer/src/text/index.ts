export { type FaceFiles, takeFaceFiles } from './face-files-browser.js';
export { fontMetrics } from './faces.js';
