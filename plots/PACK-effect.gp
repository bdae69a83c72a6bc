# gnuplot PACK-effect.gp draws PACK-effect.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1200; tall = 472
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'PACK-effect'
if (exists('beside')) name = name.beside   # until it is whole
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# row; then for each panel low, nominal, measured, high, least, greatest
$motors << EOD
10 -2.68 4.36 NaN 28.66 -2.68 28.66 -0.91 1.66 NaN 14.57 -0.91 14.57 2.52 -3.81 NaN -20.01 -20.01 2.52 0.21 -0.37 NaN -3.01 -3.01 0.21 -0.81 1.43 NaN 12.06 -0.81 12.06
9 -2.54 4.69 NaN 30.00 -2.54 30.00 -0.63 1.35 NaN 12.78 -0.63 12.78 2.35 -4.04 NaN -20.76 -20.76 2.35 0.13 -0.26 NaN -2.19 -2.19 0.13 -0.56 1.13 NaN 9.75 -0.56 9.75
8 -2.79 4.83 NaN 31.60 -2.79 31.60 -0.19 0.51 NaN 7.32 -0.19 7.32 2.51 -4.02 NaN -21.03 -21.03 2.51 0.04 -0.09 NaN -0.96 -0.96 0.04 -0.26 0.56 NaN 6.09 -0.26 6.09
7 -4.43 3.66 NaN 30.41 -4.43 30.41 0.61 -0.36 NaN 0.51 -0.36 0.61 4.12 -3.14 NaN -20.63 -20.63 4.12 -0.01 0.00 NaN -0.30 -0.30 0.00 0.07 0.03 NaN 2.43 0.03 2.43
6 -2.62 4.84 NaN 30.91 -2.62 30.91 0.10 -0.01 NaN 3.97 -0.01 3.97 2.48 -4.24 NaN -21.53 -21.53 2.48 0.02 -0.06 NaN -0.83 -0.83 0.02 -0.12 0.35 NaN 4.87 -0.12 4.87
5 -5.84 2.54 NaN 29.58 -5.84 29.58 1.16 -0.41 NaN -1.42 -1.42 1.16 5.55 -2.21 NaN -20.23 -20.23 5.55 -0.06 0.02 NaN -0.07 -0.07 0.02 0.45 -0.12 NaN 0.82 -0.12 0.82
4 -3.92 3.66 NaN 29.05 -3.92 29.05 1.10 -0.90 NaN -4.31 -4.31 1.10 3.77 -3.25 NaN -20.48 -20.48 3.77 -0.07 0.05 NaN 0.19 -0.07 0.19 0.70 -0.53 NaN -1.70 -1.70 0.70
3 -4.57 3.26 NaN 29.03 -4.57 29.03 0.02 0.16 NaN 6.46 0.02 6.46 3.99 -2.62 NaN -18.31 -18.31 3.99 0.00 -0.01 NaN -0.54 -0.54 0.00 -0.10 0.20 NaN 5.57 -0.10 5.57
2 -15.56 -8.76 NaN 15.04 -15.56 15.04 0.92 0.54 NaN 2.92 0.54 2.92 -6.84 -12.85 NaN -28.44 -28.44 -6.84 0.33 0.27 NaN -0.30 -0.30 0.33 8.88 9.40 NaN 13.38 8.88 13.38
1 -19.92 -12.35 NaN 10.85 -19.92 10.85 2.19 1.01 NaN 1.13 1.01 2.19 -3.76 -11.01 NaN -27.19 -27.19 -3.76 0.24 0.22 NaN -0.14 -0.14 0.24 9.03 9.26 NaN 12.19 9.03 12.19
EOD
set multiplot title 'Feeder PACK: change from the same load at rated volts' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics; unset xlabel; unset ylabel; unset title
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
plot NaN with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' title 'low case', \
  NaN with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' title 'nominal case', \
  NaN with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' title 'high case'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set grid lc rgb '#d5d5d5'
set tmargin at screen 1 - 90.0/tall; set bmargin at screen 72.0/tall
set arrow 1 from 0, graph 0 to 0, graph 1 nohead lw 1.5 lc rgb '#7a7a7a'
set ytics nomirror out ('CV-1' 10, 'CV-2' 9, 'CV-3' 8, 'CV-4' 7, 'CV-5' 6, 'CV-6' 5, 'FAN-1' 4, 'FAN-2' 3, 'SORT-1' 2, 'SORT-2' 1)
set yrange [0.3:10.7]
set lmargin at screen 0.075; set rmargin at screen 0.240
set xlabel 'Starting torque, %'
set xrange [-26.10:37.79]
set xtics 20.0 nomirror out
plot $motors using 6:1:($7-$6):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 2:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 3:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 5:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.260; set rmargin at screen 0.425
set xlabel 'Running amps, %'
set xrange [-6.58:16.84]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 12:1:($13-$12):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 8:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 9:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 11:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.445; set rmargin at screen 0.610
set xlabel 'Slip, %'
set xrange [-32.51:9.63]
set xtics 10.0 nomirror out
unset ytics
plot $motors using 18:1:($19-$18):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 14:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 15:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 17:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.630; set rmargin at screen 0.795
set xlabel 'Efficiency, points'
set xrange [-3.42:0.73]
set xtics 1.0 nomirror out
unset ytics
plot $motors using 24:1:($25-$24):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 20:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 21:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 23:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
set lmargin at screen 0.815; set rmargin at screen 0.980
set xlabel 'Winding rise, K'
set xrange [-3.50:15.19]
set xtics 5.0 nomirror out
unset ytics
plot $motors using 30:1:($31-$30):(0) with vectors nohead lw 2 lc rgb '#b0b0b0' notitle, \
  $motors using 26:1 with points pt 10 ps 1.3*mark lw 2 lc rgb '#1f6fb4' notitle, \
  $motors using 27:1 with points pt 7 ps 1.3*mark lw 2 lc rgb '#1a1a1a' notitle, \
  $motors using 29:1 with points pt 8 ps 1.3*mark lw 2 lc rgb '#c2410c' notitle
unset multiplot
unset output
