#!/bin/sh
# The bench page over the jobs in ~/hissward, or in the folder that HISSWARD_JOBS names.
set -eu
jobs=${HISSWARD_JOBS:-$HOME/hissward}
mkdir -p "$jobs"
exec hissward page "$jobs"
