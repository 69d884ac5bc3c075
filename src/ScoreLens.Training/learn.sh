#!/usr/bin/env bash
# Learns the shipped weights anew: features from the corpus's open part, then rounds of teachers, of what they think of every vertical,
# and of students, who are among the next round's teachers; last the weights file.
#   src/ScoreLens.Training/learn.sh CORPUS WORKFOLDER
# Needs the .NET SDK, python3 with PyTorch, and a CUDA GPU (about two hours on one of the 80 GB class, one network after another).
set -euo pipefail
corpus=$1 work=$2
here=$(cd "$(dirname "$0")" && pwd)
mkdir -p "$work"
dotnet run -c Release --project "$here" -- export "$corpus" "$work/data"
learn() { python3 "$here/learn.py" "$work/data" "$@"; }
teach() { learn "$work/$1" --power .5 --sampling .5 --smooth-pair .1 "${@:2}"; }
places=(--kind places --factor .3 --channels 48 --hidden 32 --tail 96)
teach p1 "${places[@]}" --epochs 210 --dropout .15 --seed 11
teach p2 "${places[@]}" --epochs 210 --dropout .2 --seed 12
teach p3 "${places[@]}" --epochs 210 --dropout .2 --texture .2 --variations .2 --seed 13
whole=(--kind whole --hidden 128 --factor .4)
teach w1 "${whole[@]}" --epochs 570 --seed 14
teach w2 "${whole[@]}" --epochs 530 --beat 128 --beat-layers 2 --seed 16
teach w3 "${whole[@]}" --epochs 500 --beat 96 --drop-planes .1 --texture .2 --variations .2 --seed 17
teach w4 "${whole[@]}" --epochs 530 --beat 96 --beat-layers 2 --dropout .45 --drop-crop .05 --seed 18
soft() { learn - --teachers "${@:2}" --save-soft "$work/$1"; }
student() { learn "$work/$1" --kind places --soft-labels "$work/$2" --power .5 --sampling .5 --factor .2 "${@:3}"; }
soft soft1.pt "$work"/[pw][1-4].pt
first=(--soft .8 --texture .25 --variations .25 --handbook .15 --epochs 560)
student s48 soft1.pt "${first[@]}" --channels 48 --hidden 32 --tail 64 --dropout .15 --seed 31
student s40 soft1.pt "${first[@]}" --channels 40 --hidden 24 --tail 48 --dropout .15 --soft .9 --seed 34
student s32 soft1.pt "${first[@]}" --channels 32 --hidden 24 --tail 48 --dropout .1 --seed 33
long=(--texture .2 --variations .2 --handbook .15 --dropout .2)
teach q2 "${places[@]}" "${long[@]}" --even .5 --epochs 630 --seed 22
teach q3 --kind places --factor .3 --channels 64 --hidden 40 --tail 96 "${long[@]}" --epochs 600 --seed 23
teach q4 "${places[@]}" "${long[@]}" --texture .15 --sampling .35 --even .5 --half --epochs 660 --seed 24
soft soft2.pt "$work"/q[2-4].pt "$work"/w[2-4].pt "$work"/s[0-9][0-9].pt
second=(--soft .8 --texture .3 --variations .25 --handbook .18 --even .5 --epochs 620)
student n48 soft2.pt "${second[@]}" --channels 48 --hidden 32 --tail 64 --dropout .15 --seed 41
student n32 soft2.pt "${second[@]}" --channels 32 --hidden 24 --tail 48 --dropout .1 --seed 43
student n40 soft2.pt "${second[@]}" --channels 40 --hidden 24 --tail 48 --dropout .15 --soft .9 --seed 44
student m48 soft2.pt "${second[@]}" --channels 48 --hidden 32 --tail 64 --dropout .2 --soft .9 --drop-planes .05 --sampling .4 --seed 45
soft soft3.pt "$work"/q[2-4].pt "$work"/w[2-4].pt "$work"/[smn][0-9][0-9].pt
student k48 soft3.pt --soft .9 --texture .2 --variations .2 --handbook .18 --even .3 --epochs 1170 --channels 48 --hidden 32 --tail 64 --dropout .12 --seed 51
# The last round has eleven times as much invented music, and what networks of all rounds think of it.
for number in $(seq 1 10); do dotnet run -c Release --project "$here" -- export "$corpus" "$work/data.$number" "$number"; done
cues=(--kind places --soft-labels "$work/soft3.pt" --soft .9 --power .5 --sampling .45 --even .4 --factor .2 --channels 48 --hidden 32 --tail 64 --dropout .15 --texture .25 --variations .25 --handbook .18 --epochs 600)
soft soft3.pt "$work"/q[2-4].pt "$work"/w[2-4].pt "$work"/[smn][0-9][0-9].pt
learn "$work/u1" "${cues[@]}" --seed 101
learn "$work/u2" "${cues[@]}" --seed 102
soft soft4.pt "$work"/[kmns]48.pt "$work"/n32.pt "$work"/u[12].pt "$work"/w[1-3].pt
last() { learn "$work/$1" --kind whole --beat-layers 2 --soft-labels "$work/soft4.pt" --soft .9 --power .5 --sampling .45 --even .4 --factor .2 --texture .32 --variations .25 --handbook .18 --epochs 1700 "${@:2}"; }
last flat1 --front 192 --hidden 128 --beat 96 --dropout .12 --sampling .7 --seed 216
last flat2 --front 128 --hidden 112 --beat 64 --dropout .08 --soft .97 --seed 218
learn "$here/../ScoreLens/Reading/Model/weights.bin" --pack "$work"/flat[12].pt
