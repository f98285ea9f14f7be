# What the runs on a lent machine share: sourced by `everything.sh` and `club.sh`, in WORK.
mkdir -p log clips
begun=$(date +%s)
say() { echo "$(($(date +%s) - begun)) s: $*" | tee -a log/main; }
fail() { say "failed: $1, see log/$1"; }
until_there() { while [ ! -e "$1" ]; do sleep 0.5; done; }
export PYTHONUNBUFFERED=1 OMP_NUM_THREADS=4
stage=$PWD/stage
python3 -c "import numpy, PIL, torch" && "$stage" --version || exit 1
