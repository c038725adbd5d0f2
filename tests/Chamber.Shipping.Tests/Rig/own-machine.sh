#!/bin/sh
# Becomes a machine of its own on this one: systemd is the first process of its own namespaces (processes, mounts, network, groups of
# processes), its root is this machine's with a layer over it that is gone with it. Nothing of the machine below is changed. Needs root.
#   own-machine.sh FOLDER NAME   FOLDER an empty one; NAME that of its group of processes
#   own-machine.sh end NAME      once it has ended, takes that group away
set -eu
groups='systemd memory pids'

if [ "$1" = end ]; then
  for group in $groups; do
    [ ! -d "/sys/fs/cgroup/$group/$2" ] || find "/sys/fs/cgroup/$group/$2" -depth -type d -exec rmdir {} +
  done
  exit
fi

if [ "${3:-}" != inside ]; then
  # What is limited for it is limited for it alone.
  for group in $groups; do
    mkdir -p "/sys/fs/cgroup/$group/$2"
    echo $$ >"/sys/fs/cgroup/$group/$2/cgroup.procs"
  done
  exec unshare --fork --kill-child --pid --mount --uts --ipc --net --cgroup -- "$0" "$1" "$2" inside
fi

mount -t tmpfs -o mode=755 machine "$1"
mkdir "$1/kept" "$1/work" "$1/root"
mount -t overlay -o "lowerdir=/,upperdir=$1/kept,workdir=$1/work" machine "$1/root"
cd "$1/root"
mount -t proc proc proc
mount -t sysfs -o ro sys sys
mount -t tmpfs groups sys/fs/cgroup
for group in $groups; do
  mkdir "sys/fs/cgroup/$group"
  case $group in systemd) options=none,name=systemd ;; *) options=$group ;; esac
  mount -t cgroup -o "$options" group "sys/fs/cgroup/$group"
done
mount -t tmpfs -o mode=755 run run
mount -t tmpfs -o mode=755 devices dev
for device in null zero full random urandom tty; do
  touch "dev/$device"
  mount --bind "/dev/$device" "dev/$device"
done
mkdir dev/pts dev/shm below
mount -t devpts -o newinstance,ptmxmode=0666 pts dev/pts
ln -s pts/ptmx dev/ptmx
ln -s /proc/self/fd dev/fd
mount -t tmpfs shm dev/shm

# What this machine starts by itself, or forbids, is not asked for here.
rm -f etc/systemd/system/*.wants/* usr/sbin/policy-rc.d
rm -rf var/log/journal
pivot_root . below
umount -l /below
exec env -i container=chamber-test PATH=/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin /lib/systemd/systemd \
  --unit=basic.target --show-status=no
