# gnuplot FIRE-sag.gp draws FIRE-sag.png beside this file
if (!exists('picture')) picture = 'png'   # png, svg or pdf
wide = 1100; tall = 758
name = exists('ARG0') && strlen(ARG0) > 3 ? ARG0[1:strlen(ARG0)-3] : 'FIRE-sag'
if (picture eq 'svg') set terminal svg noenhanced size wide,tall font 'sans-serif,12' background 'white'
if (picture eq 'pdf') set terminal pdfcairo noenhanced size wide/100.0,tall/100.0 font 'sans,10'
if (picture ne 'svg' && picture ne 'pdf') set terminal pngcairo noenhanced size wide,tall font 'sans,11'
mark = picture eq 'svg' || picture eq 'pdf' ? 0.65 : 1.0   # these two draw points larger
set output name.'.'.picture
set encoding utf8
set border 3 lc rgb '#555555'
set tics nomirror out
# s; volts before the starter, at the motor, board, service, %; amps; rev/min. span: s; least and most
$start1 << EOD
-0.0573 102.94 NaN 98.65 98.67 0.0 0.0
0.0000 102.94 NaN 98.65 98.67 0.0 0.0
0.0000 96.94 NaN 93.43 95.09 520.1 0.0
0.0040 96.90 NaN 93.40 95.06 519.0 15.0
0.0118 96.87 NaN 93.36 95.02 517.0 44.4
0.0242 96.85 NaN 93.35 95.00 514.0 92.0
0.0414 96.88 NaN 93.37 95.01 509.9 159.2
0.0617 96.93 NaN 93.41 95.04 504.9 238.7
0.0892 97.00 NaN 93.48 95.09 497.9 343.7
0.1159 97.08 NaN 93.55 95.14 490.9 442.6
0.1422 97.16 NaN 93.62 95.19 483.9 536.5
0.1692 97.24 NaN 93.69 95.25 476.5 629.5
0.1979 97.33 NaN 93.77 95.31 468.6 724.7
0.2296 97.44 NaN 93.86 95.37 459.6 826.0
0.2666 97.56 NaN 93.97 95.45 448.9 940.5
0.3163 97.73 NaN 94.13 95.57 433.8 1090.7
0.3381 97.81 NaN 94.20 95.62 426.7 1155.8
0.3637 97.91 NaN 94.29 95.69 417.8 1233.0
0.3845 98.00 NaN 94.37 95.76 409.6 1296.7
0.4018 98.08 NaN 94.44 95.82 401.9 1350.7
0.4164 98.16 NaN 94.52 95.89 394.2 1397.6
0.4290 98.25 NaN 94.60 95.96 386.2 1439.7
0.4402 98.34 NaN 94.69 96.03 377.5 1478.3
0.4504 98.45 NaN 94.79 96.12 367.6 1514.7
0.4606 98.60 NaN 94.93 96.24 354.6 1552.8
0.4700 98.80 NaN 95.11 96.39 338.3 1589.8
0.4792 99.07 NaN 95.36 96.59 316.0 1627.2
0.4897 99.54 NaN 95.78 96.90 279.2 1670.1
0.4945 99.82 NaN 96.03 97.08 257.5 1689.1
0.5001 100.21 NaN 96.36 97.32 227.7 1710.3
0.5056 100.61 NaN 96.71 97.54 196.8 1728.5
0.5113 101.01 NaN 97.05 97.76 165.6 1744.3
0.5167 101.34 NaN 97.33 97.94 139.1 1756.0
0.5218 101.58 NaN 97.53 98.05 119.0 1763.9
0.5273 101.76 NaN 97.68 98.13 103.4 1769.7
0.5336 101.89 NaN 97.79 98.19 92.0 1773.8
0.5415 101.98 NaN 97.85 98.23 84.4 1776.5
0.5522 102.03 NaN 97.90 98.25 80.1 1778.0
0.5689 102.05 NaN 97.91 98.26 78.3 1778.6
0.6019 102.05 NaN 97.92 98.26 77.9 1778.7
0.7009 102.06 NaN 97.92 98.26 78.0 1778.7
0.9827 102.06 NaN 97.92 98.27 78.0 1778.7
EOD
$span1 << EOD
0.0000 96.85 97.08 519.2 520.1 0.0 0.0
0.0040 96.81 97.04 518.0 519.0 8.7 24.1
0.0092 96.78 97.02 516.5 517.9 20.2 55.4
0.0118 96.78 97.00 515.8 517.6 25.9 71.0
0.0191 96.78 96.98 513.8 516.7 42.3 115.3
0.0242 96.79 96.97 512.5 516.1 53.8 146.3
0.0299 96.80 96.95 511.0 515.5 66.7 181.2
0.0335 96.81 96.95 510.1 515.1 74.9 202.7
0.0414 96.83 96.94 508.2 514.2 93.2 250.1
0.0518 96.87 96.94 505.6 513.1 117.0 312.0
0.0617 96.89 96.94 503.3 512.0 140.5 370.2
0.0734 96.93 96.96 500.5 510.7 168.1 438.0
0.0892 96.96 97.00 497.0 508.9 205.3 526.4
0.0933 96.97 97.01 496.0 508.4 215.2 549.8
0.1030 96.98 97.04 493.9 507.2 238.0 602.3
0.1134 96.99 97.07 491.5 505.9 262.3 659.0
0.1159 96.99 97.08 490.9 505.6 268.1 672.0
0.1343 97.01 97.13 486.0 503.2 311.0 769.3
0.1422 97.02 97.16 483.9 502.3 329.2 809.3
0.1483 97.03 97.18 482.2 501.5 343.5 840.5
0.1569 97.04 97.20 479.9 500.3 362.9 884.7
0.1692 97.06 97.24 476.5 498.5 390.6 945.9
0.1836 97.08 97.29 472.5 496.5 423.0 1017.5
0.1915 97.09 97.31 470.3 495.4 441.0 1056.7
0.1979 97.10 97.33 468.6 494.4 454.9 1088.1
0.2015 97.10 97.34 467.5 493.9 462.7 1105.7
0.2157 97.12 97.39 463.5 491.7 493.6 1175.8
0.2285 97.14 97.43 459.0 489.7 521.6 1240.1
0.2349 97.15 97.45 455.5 488.8 535.4 1272.6
0.2393 97.16 97.47 453.2 488.0 544.6 1294.9
0.2483 97.18 97.50 446.9 486.5 563.7 1342.5
0.2562 97.19 97.57 440.1 485.2 580.4 1385.5
0.2633 97.20 97.65 432.3 484.0 595.2 1425.1
0.2666 97.21 97.70 427.6 483.4 602.2 1444.5
0.2704 97.21 97.76 422.2 482.8 610.1 1466.6
0.2768 97.22 97.89 410.0 481.7 623.6 1505.7
0.2820 97.23 98.05 396.7 480.8 634.5 1539.1
0.2883 97.25 98.31 375.4 479.6 647.4 1580.9
0.2941 97.26 98.67 347.5 478.5 659.2 1620.5
0.3005 97.27 99.24 303.6 477.3 672.4 1664.7
0.3042 97.28 99.66 271.7 476.6 680.0 1688.7
0.3078 97.28 100.11 237.2 475.9 687.3 1710.1
0.3112 97.29 100.53 203.6 475.2 694.3 1727.8
0.3147 97.30 100.93 171.8 474.6 701.4 1742.6
0.3181 97.31 101.25 145.1 473.9 708.4 1753.9
0.3215 97.31 101.50 123.8 473.3 715.4 1762.2
0.3253 97.32 101.68 107.2 472.6 723.0 1768.3
0.3295 97.33 101.82 94.8 471.7 731.8 1772.8
0.3348 97.34 101.91 86.4 470.7 742.6 1775.8
0.3381 97.35 101.94 84.1 470.1 749.2 1776.6
0.3419 97.35 101.96 81.3 469.3 757.0 1777.6
0.3524 97.38 101.99 79.0 467.0 778.3 1778.4
0.3637 97.41 102.00 78.6 464.6 800.9 1778.5
0.3717 97.42 102.00 78.4 462.8 817.1 1778.6
0.3845 97.45 102.00 78.4 460.0 842.9 1778.6
0.4018 97.50 102.00 78.4 455.7 877.8 1778.6
0.4164 97.54 102.00 78.4 452.1 907.3 1778.6
0.4262 97.57 102.00 78.4 449.6 927.3 1778.6
0.4290 97.58 102.00 78.4 448.9 932.9 1778.6
0.4402 97.61 102.00 78.4 445.7 955.9 1778.6
0.4504 97.64 102.00 78.4 442.8 976.7 1778.6
0.4606 97.68 102.00 78.4 439.9 997.6 1778.6
0.4658 97.69 102.00 78.4 438.4 1008.3 1778.6
0.4700 97.71 102.00 78.4 437.1 1017.2 1778.6
0.4792 97.74 102.00 78.4 434.1 1036.5 1778.6
0.4897 97.78 102.00 78.4 430.7 1058.4 1778.6
0.4945 97.80 102.00 78.4 429.1 1068.3 1778.6
0.4975 97.81 102.00 78.4 428.1 1074.8 1778.6
0.5001 97.82 102.00 78.4 427.2 1080.3 1778.6
0.5056 97.84 102.00 78.4 425.2 1092.0 1778.6
0.5113 97.87 102.00 78.4 423.1 1104.2 1778.6
0.5167 97.89 102.00 78.4 421.1 1115.9 1778.6
0.5218 97.91 102.00 78.4 419.3 1126.8 1778.6
0.5273 97.93 102.00 78.4 417.3 1138.5 1778.6
0.5336 97.96 102.00 78.4 414.7 1152.3 1778.6
0.5415 98.00 102.00 78.4 411.5 1169.6 1778.6
0.5522 98.05 102.03 78.4 407.0 1193.2 1778.6
0.5590 98.09 102.04 78.4 404.2 1208.1 1778.6
0.5689 98.14 102.05 78.3 399.6 1230.4 1778.6
0.5876 98.24 102.05 78.1 390.9 1272.4 1778.7
0.6019 98.33 102.05 77.9 383.4 1305.2 1778.7
0.6172 98.42 102.05 77.9 375.4 1340.1 1778.7
0.6506 98.66 102.05 77.9 355.5 1417.7 1778.7
0.6975 99.06 102.06 78.0 322.0 1527.0 1778.7
0.7009 99.09 102.06 78.0 319.0 1534.9 1778.7
0.7174 99.26 102.06 78.0 304.4 1573.1 1778.7
0.7364 99.51 102.06 78.0 284.0 1616.8 1778.7
0.7478 99.69 102.06 78.0 269.1 1642.5 1778.7
0.7620 99.98 102.06 78.0 246.3 1673.9 1778.7
0.7732 100.27 102.06 78.0 223.6 1697.9 1778.7
0.7842 100.61 102.06 78.0 197.5 1719.6 1778.7
0.7950 100.97 102.06 78.0 169.6 1738.4 1778.7
0.8034 101.27 102.06 78.0 147.2 1750.9 1778.7
0.8125 101.56 102.06 78.0 124.4 1761.3 1778.7
0.8209 101.77 102.06 78.0 107.5 1768.1 1778.7
0.8300 101.92 102.06 78.0 94.7 1772.8 1778.7
0.8408 102.00 102.06 78.0 85.9 1776.0 1778.7
0.8549 102.00 102.09 78.0 80.5 1777.8 1778.7
0.8755 102.00 102.12 77.9 78.4 1778.6 1778.7
0.9123 102.00 102.13 77.2 78.4 1778.6 1779.0
0.9545 102.00 102.14 77.2 78.4 1778.6 1779.0
EOD
set multiplot title 'Feeder FIRE: each start alone, nominal case' font ',14'
set lmargin at screen 0.08; set rmargin at screen 0.97
set tmargin at screen 1 - 42.0/tall; set bmargin at screen 1 - 70.0/tall
unset border; unset tics; unset xlabel; unset ylabel; unset title
set key center center horizontal width 2
set xrange [0:1]; set yrange [0:1]
set label 20 'JP-1' at screen 0.03, screen 16.0/tall left textcolor rgb '#555555'
set label 21 'Dip under 1 % and up to speed within 1 s: 1' at screen 0.03, screen 34.0/tall left textcolor rgb '#555555'
plot NaN with lines lw 2 lc rgb '#1a1a1a' title 'before starter, % plate', \
  NaN with lines lw 2 lc rgb '#0f766e' title 'board, % nominal', \
  NaN with lines lw 2 lc rgb '#b45309' title 'service, % nominal', \
  NaN with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' title 'easy to hard', \
  NaN with lines lw 1 dt 2 lc rgb '#b91c1c' title 'limit', \
  NaN with lines lw 1 dt 3 lc rgb '#555555' title 'closes, changes over'
unset key; set border 3 lc rgb '#555555'; set tics nomirror out
set grid lc rgb '#d5d5d5'
unset arrow; unset label; unset title
set xrange [-0.0573:0.9545]; set xtics autofreq nomirror out; set format x ''
set xlabel ''; set ylabel 'Volts, %'
set yrange [66:107]; set ytics 10 nomirror out
set tmargin at screen 1 - (162.0 + 0*600.0)/tall; set bmargin at screen 1 - (392.0 + 0*600.0)/tall
set lmargin at screen 0.10; set rmargin at screen 0.97
set arrow 1 from 0.0000, graph 0 to 0.0000, graph 1 nohead front lw 1 dt 3 lc rgb '#555555'
set arrow 11 from graph 0, first 80.0 to graph 1, first 80.0 nohead front lw 1 dt 2 lc rgb '#b91c1c'
set label 11 'before the starter 80' at graph 0.995, first 80.0 right offset 0,0.45 font ',9' textcolor rgb '#b91c1c'
set arrow 12 from graph 0, first 70.0 to graph 1, first 70.0 nohead front lw 1 dt 2 lc rgb '#b91c1c'
set label 12 'contactors 70' at graph 0.995, first 70.0 right offset 0,0.45 font ',9' textcolor rgb '#b91c1c'
set arrow 13 from graph 0, first 85.0 to graph 1, first 85.0 nohead front lw 1 dt 2 lc rgb '#b91c1c'
set label 13 'board of a fire pump 85' at graph 0.995, first 85.0 right offset 0,0.45 font ',9' textcolor rgb '#b91c1c'
set label 10 'dip 5.4 %, peak 520 A, to speed 0.52 s (0.32 to 0.81)' at graph 0.5, graph 1 center offset 0,0.8 textcolor rgb '#334155'
set title 'FP-1: 75 hp, 460 V, across' offset 0,0.9
plot $span1 using 1:2:3 with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' notitle, \
  $start1 using 1:5 with lines lw 2 lc rgb '#b45309' notitle, \
  $start1 using 1:4 with lines lw 2 lc rgb '#0f766e' notitle, \
  $start1 using 1:2 with lines lw 2 lc rgb '#1a1a1a' notitle
unset arrow; unset label; unset title
set xrange [-0.0573:0.9545]; set xtics autofreq nomirror out; set format x ''
set xlabel ''; set ylabel 'Line, A'
set yrange [0:551.31]; set ytics 200.00 nomirror out
set tmargin at screen 1 - (408.0 + 0*600.0)/tall; set bmargin at screen 1 - (513.0 + 0*600.0)/tall
set lmargin at screen 0.10; set rmargin at screen 0.97
set arrow 1 from 0.0000, graph 0 to 0.0000, graph 1 nohead front lw 1 dt 3 lc rgb '#555555'
plot $span1 using 1:4:5 with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' notitle, \
  $start1 using 1:6 with lines lw 2 lc rgb '#1a1a1a' notitle
unset arrow; unset label; unset title
set xrange [-0.0573:0.9545]; set xtics autofreq nomirror out; set format x '%g'
set xlabel 'Time from closing, s'; set ylabel 'Speed, rev/min'
set yrange [0:1908.00]; set ytics 500.00 nomirror out
set tmargin at screen 1 - (529.0 + 0*600.0)/tall; set bmargin at screen 1 - (634.0 + 0*600.0)/tall
set lmargin at screen 0.10; set rmargin at screen 0.97
set arrow 1 from 0.0000, graph 0 to 0.0000, graph 1 nohead front lw 1 dt 3 lc rgb '#555555'
plot $span1 using 1:6:7 with filledcurves fs solid 1 noborder fc rgb '#e3e0ea' notitle, \
  $start1 using 1:7 with lines lw 2 lc rgb '#1a1a1a' notitle
unset multiplot
unset output
