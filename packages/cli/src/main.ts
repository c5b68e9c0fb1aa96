import { runCommand } from './run-command.js';

// A reader that has seen enough (`| head`) closes the pipe: that is no fault of ours.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit();
    throw error;
  });
}

process.exitCode = await runCommand(process.argv.slice(2), {
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
  errIsTerminal: process.stderr.isTTY === true,
});
