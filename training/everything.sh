#!/usr/bin/env bash
# Teaches joint network and correction, renders the clips that they are judged by, and follows them: about 1,150 s on a
# machine with four GPUs and 64 cores. Nothing is fetched.
#
#     everything.sh WORK
#
# WORK holds: stage, lessonwright, export_onnx (our programs), home (networks and runtime, as `cargo xtask setup` has
# them), photographs (from photographs.py), joints.csv (the capture), and bin (ffmpeg and ffprobe, 5.1 or later), which may come late:
# what needs a file waits for it. Where start.pt lies there too, the joint network goes on from it. Progress is in
# WORK/log/main, which is there within seconds or something is wrong.
# LESSONWRIGHT_JOINTS names the joint network that `lessonwright` shall use: a program built for that, see README.md.
set -u
here=$(cd "$(dirname "$0")" && pwd)
cd "$1" || exit 1
. "$here/progress.sh"
mkdir -p figures
makers_n=${MAKERS:-56} renderers=${RENDERERS:-64}
joint_s=${JOINT_S:-1000} figure_s=${FIGURE_S:-320} swing_s=${SWING_S:-400}
say "begun: joints $joint_s s, figures $figure_s s, swings $swing_s s"

# --- Pictures: figures for the joint network, swings for the correction. ---
"$stage" figures --seed 900001 --count 250 --each 8 > figures/held-1.bin &
makers=()
for i in $(seq "$makers_n"); do
  RAYON_NUM_THREADS=1 "$stage" figures --seed $((500000 + i)) --step 64 --count 10000000 --each 8 > figures/learn-$i.bin &
  makers+=($!)
done
on=()
[ -e start.pt ] && on=(--weights start.pt --rate 1.8e-3)
# Launching its many small steps comes before rendering, or the cards stand idle.
CUDA_VISIBLE_DEVICES=0,1,2 nice -n -15 python3 "$here/joint_network.py" train --figures figures --files "$makers_n" \
  --photographs photographs --out joints.pt --limit-s "$joint_s" "${on[@]}" > log/joints 2>&1 &
joints=$!

swings() { # name, family, first seed, how many, seconds, options
  CUDA_VISIBLE_DEVICES=3 python3 "$here/generate.py" "$stage" body.onnx "$1.npz" --family "$2" --first "$3" --count "$4" \
    --renderers "$renderers" --limit-s "$5" "${@:6}" > "log/$1" 2>&1 || fail "$1"
}
(
  until_there home/body_landmarks.tflite
  ./export_onnx home/body_landmarks.tflite body.part && mv body.part body.onnx
  swings varied-1 varied 10001 6000 "$swing_s" &
  swings varied-2 varied 20001 6000 "$swing_s" --shapes learn &
  swings varied-3 varied 30001 6000 "$swing_s" --shapes learn &
  wait
  say swings followed
  captured=(--capture joints.csv)
  swings random-1 random 5001 64 90 &
  swings random-2 random 5001 64 90 --shapes held-out &
  swings captured-1 captured 1 32 90 "${captured[@]}" &
  swings captured-2 captured 1 32 90 "${captured[@]}" --shapes held-out &
  wait
  say swings to judge by followed
  more_s=$((joint_s - $(date +%s) + begun))
  swings varied-4 varied 40001 6000 "$more_s" &
  swings varied-5 varied 50001 6000 "$more_s" --shapes learn &
  swings varied-6 varied 60001 6000 "$more_s" --shapes learn &
  wait
  say more swings followed
  touch swings.done
) &

sleep "$figure_s"
kill "${makers[@]}"
say "figures: $(du -sm figures | cut -f1) MB"
# --- Clips for the bench, on cores that are free now. ---
until_there bin/ffmpeg
say "$(bin/ffmpeg -version | head -n 1)"
(
  nice -n 5 python3 "$here/bench_clips.py" render . > log/clips 2>&1
  say clips rendered
) &
rendered=$!

if ! wait $joints; then
  fail joints
  exit 1
fi
say joints taught
until_there swings.done
python3 "$here/joint_network.py" export --weights joints.pt --out joints.onnx --device cpu > log/export 2>&1
(
  nice -n 5 python3 "$here/bench_clips.py" follow . > log/follow 2>&1
  say clips followed
) &
followed=$!

# --- The correction, bodies bent less and more widely. ---
on_card() { # card, log, script and arguments
  CUDA_VISIBLE_DEVICES=$1 python3 "$here/$3" "${@:4}" > "log/$2" 2>&1 || fail "$2"
}
said=()
on_card 0 said-1 joint_network.py predict --weights joints.pt --swings varied-{1,4}.npz & said+=($!)
on_card 1 said-2 joint_network.py predict --weights joints.pt --swings varied-{2,5}.npz & said+=($!)
on_card 2 said-3 joint_network.py predict --weights joints.pt --swings varied-{3,6}.npz & said+=($!)
on_card 3 said-4 joint_network.py predict --weights joints.pt --swings random-{1,2}.npz captured-{1,2}.npz & said+=($!)
wait "${said[@]}"
say the joint network has said what it sees
each() { # card, width of the bending
  on_card "$1" "correction-$1" correct.py train --stage "$stage" --swings varied-{1..6}.npz --out "correction-$1.pt" \
    --batch 64 --epochs "${EPOCHS:-240}" --warp "$2" --with-joints 0.95
  on_card "$1" "judged-$1" correct.py judge --stage "$stage" --weights "correction-$1.pt" --fit varied-1.npz --capture joints.csv \
    --swings varied-{1,2}.npz random-{1,2}.npz captured-{1,2}.npz
  say "correction $1, bent $2 times: done"
}
each 0 1.8 & a=$!
each 1 2.6 & b=$!
each 2 1.0 & c=$!
wait $a $b $c $rendered $followed
say all done
touch all.done
