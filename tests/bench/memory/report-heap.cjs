// Loaded before the service in each of its threads (`--require`): a line of its own memory every few seconds, whenever the thread is free.
const { appendFileSync } = require('node:fs')
const { isMainThread } = require('node:worker_threads')

const file = process.env.HEAP_REPORTS
const report = () => {
  const { heapUsed, heapTotal, external } = process.memoryUsage()
  const thread = isMainThread ? 'server' : 'engine'
  appendFileSync(file, `${JSON.stringify({ at: Date.now(), thread, heapUsed, heapTotal, external })}\n`)
}
setInterval(report, Number(process.env.HEAP_REPORT_EVERY_MS)).unref()
