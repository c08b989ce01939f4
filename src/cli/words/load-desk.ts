export { loadDesk } from '../../node/targets.js';
