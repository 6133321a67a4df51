import { execFile } from 'node:child_process'
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import type { IntervalRows } from './interval-rows.js'
import type { Measured } from './measured.js'

const run = promisify(execFile)

/** The same model in R, timed there without reading the rows; figures leave as JSON written by hand (no package needed). */
const SCRIPT = `
suppressMessages(library(lme4))
rows <- read.csv(commandArgs(TRUE)[1])
for (name in c("alloy", "boat", "berth")) rows[[name]] <- factor(rows[[name]])
begin <- proc.time()
fit <- lmer(y ~ alloy + (1 | boat) + (1 | berth), data = rows)
fitted <- proc.time() - begin
effects <- ranef(fit, condVar = TRUE)
whole <- proc.time() - begin
deviation <- function(term) mean(sqrt(attr(effects[[term]], "postVar")))
status <- readLines("/proc/self/status")
peak <- as.numeric(gsub("[^0-9]", "", grep("VmHWM", status, value = TRUE))) / 1024
variances <- as.data.frame(VarCorr(fit))
of <- function(term) variances$vcov[variances$grp == term]
cat(sprintf(paste0('{"fit":{"wall":%f,"cpu":%f},"withDeviations":{"wall":%f,"cpu":%f},"peakMiB":%f,',
  '"variances":{"boat":%.12g,"berth":%.12g,"residual":%.12g},"fixed":[%s],"meanDeviation":{"boat":%.12g,"berth":%.12g}}'),
  fitted[["elapsed"]], fitted[["user.self"]] + fitted[["sys.self"]],
  whole[["elapsed"]], whole[["user.self"]] + whole[["sys.self"]], peak,
  of("boat"), of("berth"), of("Residual"), paste(sprintf("%.12g", fixef(fit)), collapse = ","),
  deviation("boat"), deviation("berth")))
`

/** Whether R with lme4 can be run here. */
export async function hasLme4(): Promise<boolean> {
  try {
    await run('Rscript', ['-e', 'library(lme4)'])
    return true
  } catch {
    return false
  }
}

/** Fits the anchor's model to the rows by lme4. */
export async function fitByLme4({ logRate, alloy, boat, berth }: IntervalRows): Promise<Measured> {
  const folder = await mkdtemp(join(tmpdir(), 'anode-ledger-bench-'))
  try {
    const lines = Array.from(logRate, (y, row) => `${y},${alloy[row]},${boat[row]},${berth[row]}`)
    await writeFile(join(folder, 'rows.csv'), `y,alloy,boat,berth\n${lines.join('\n')}\n`)
    await writeFile(join(folder, 'fit.R'), SCRIPT)
    const { stdout } = await run('Rscript', [join(folder, 'fit.R'), join(folder, 'rows.csv')])
    return JSON.parse(stdout) as Measured
  } finally {
    await rm(folder, { recursive: true })
  }
}
