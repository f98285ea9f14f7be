#!/usr/bin/env bash
# Teaches the club network on from the one of now, and renders the clips that it is judged by: about 1,400 s on a machine
# with two GPUs and 32 cores. Nothing is fetched.
#
#     club.sh WORK
#
# WORK holds: stage (our program), photographs (from photographs.py), start.pt (from go_on.py), and bin/ffmpeg, which may
# come late. Progress is in WORK/log/main, which is there within seconds or something is wrong.
set -u
here=$(cd "$(dirname "$0")" && pwd)
cd "$1" || exit 1
. "$here/progress.sh"
mkdir -p cutouts
makers_n=$(nproc --all) cutouts_s=${CUTOUTS_S:-410} teach_s=${TEACH_S:-880}
ls photographs/judge start.pt > log/there || exit 1
say "begun: cut-outs $cutouts_s s, teaching $teach_s s"

RAYON_NUM_THREADS=1 "$stage" cutouts --seed 950001 --count 120 > cutouts/judge-1.bin &
judged=$!
makers=()
for i in $(seq "$makers_n"); do
  RAYON_NUM_THREADS=1 "$stage" cutouts --seed $((200000 + i)) --step "$makers_n" --count 100000 > "cutouts/learn-$i.bin" &
  makers+=($!)
done
sleep "$cutouts_s"
kill "${makers[@]}"
wait "$judged"
say "cut-outs: $(du -sm cutouts | cut -f1) MB"

teach() { # card, rate
  CUDA_VISIBLE_DEVICES=$1 nice -n -10 python3 "$here/club_network.py" train --cutouts cutouts --photographs photographs \
    --weights start.pt --rate "$2" --limit-s "$teach_s" --out "club-$1.pt" > "log/club-$1" 2>&1 || fail "club-$1"
  say "club $1, at $2: done"
}
teach 0 1.5e-3 & a=$!
teach 1 0.7e-3 & b=$!

until_there bin/ffmpeg
clips() { # folder, shapes, first and last seed
  nice -n 5 python3 "$here/club_clips.py" "$stage" photographs/judge "clips/$1" --shapes "$2" --seeds "$3" "$4" \
    --ffmpeg "$PWD/bin/ffmpeg" > "log/$1" 2>&1 || fail "$1"
  say "clips $1: $(du -sm "clips/$1" | cut -f1) MB"
}
clips tune-shapes learn 1225 1248
clips report none 9301 9324
clips report-shapes held-out 9325 9348
clips tune none 1249 1264
wait $a $b
CUDA_VISIBLE_DEVICES=0 python3 "$here/club_network.py" judge --cutouts cutouts --photographs photographs --weights start.pt > log/before 2>&1 || fail before
say all done
touch all.done
