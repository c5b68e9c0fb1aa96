import { mutantServer } from './servers.mjs';

// One server of its own process: it can be ended when a mutant never comes back. Takes `{ path, source, files: [{ file, ids }] }`
// and tells of every test file as it begins and ends, of the time that the processor has spent, and that it is done.

const root = process.argv[2];
/** How often the time spent is told, ms. */
const BEAT_MS = 250;

const tell = (message) => process.send?.(message);

/**
 * What the processor has spent on this process, its threads included, ms: unlike the clock it does not depend on what else the
 * machine does.
 */
const spentMs = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

const server = await mutantServer(root, {
  onTestModuleStart: (module) => tell({ began: module.moduleId, spent: spentMs() }),
  onTestModuleEnd(module) {
    const failed = [...module.children.allTests('failed')].map(({ fullName }) => fullName);
    tell({ ended: module.moduleId, state: module.state(), failed, spent: spentMs() });
  },
});
process.on('message', async (work) => {
  tell({ spent: spentMs() });
  try {
    const { unhandledErrors } = await server.run(work);
    tell({ done: true, broken: unhandledErrors.length > 0 });
  } catch (error) {
    tell({ done: true, broken: true, why: String(error) });
  }
});
setInterval(() => tell({ spent: spentMs() }), BEAT_MS);
process.on('disconnect', () => process.exit());
tell({ ready: true });
